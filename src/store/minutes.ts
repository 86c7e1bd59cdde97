import type { Micros } from "../ground/time.ts";

/**
 * Least, time-weighted mean and greatest value of each signal since its interval began, from nothing
 * but its changes. A value stands until the next one; NaN stands for no value, and time without one
 * weighs nothing. Time is passed in, all state lies in typed arrays, and a change makes no object.
 *
 * An angle is followed around the circle: from 359° to 1° is 2° on, so least, mean and greatest are
 * 359, 360 and 361, and not 1, 180 and 359.
 */
export class Minutes {
  /** Of the interval that `close` has closed last. */
  min = 0;
  mean = 0;
  max = 0;
  /** The value that stood last in it. */
  last = 0;

  #value = new Float64Array(64);
  #least = new Float64Array(64);
  #greatest = new Float64Array(64);
  /** Value times microseconds, and the microseconds that had a value. */
  #sum = new Float64Array(64);
  #known = new Float64Array(64);
  #since = new Float64Array(64);
  #last = new Float64Array(64);
  #isAngle = new Uint8Array(64);
  #count = 0;

  /** Adds a signal with the value that it has now; returns its slot. */
  add(value: number, isAngle: boolean, now: Micros): number {
    const slot = this.#count++;
    if (slot === this.#value.length) this.#grow();
    this.#isAngle[slot] = isAngle ? 1 : 0;
    this.#begin(slot, value, now);
    return slot;
  }

  change(slot: number, value: number, now: Micros): void {
    this.#spend(slot, now);
    let next = value;
    if (this.#isAngle[slot] === 1) {
      const from = this.#last[slot];
      if (from === from) next = from + ((((value - from) % 360) + 540) % 360) - 180;
    }
    this.#value[slot] = next;
    if (next !== next) return;
    this.#last[slot] = next;
    if (next < this.#least[slot]) this.#least[slot] = next;
    if (next > this.#greatest[slot]) this.#greatest[slot] = next;
  }

  /** Ends a slot's interval and begins the next. False when it never had a value. */
  close(slot: number, now: Micros): boolean {
    this.#spend(slot, now);
    const found = this.#least[slot] <= this.#greatest[slot];
    if (found) {
      this.min = this.#least[slot];
      this.max = this.#greatest[slot];
      this.last = this.#last[slot];
      const mean = this.#known[slot] > 0 ? this.#sum[slot] / this.#known[slot] : this.last;
      this.mean = Math.min(this.max, Math.max(this.min, mean));
    }
    const value = this.#value[slot];
    this.#begin(slot, this.#isAngle[slot] === 1 ? ((value % 360) + 360) % 360 : value, now);
    return found;
  }

  /** Nobody watched until now: what stood then may not have stood since. */
  skipTo(now: Micros): void {
    for (let slot = 0; slot < this.#count; slot++) this.#since[slot] = now;
  }

  #begin(slot: number, value: number, now: Micros): void {
    const isKnown = value === value;
    this.#value[slot] = value;
    this.#last[slot] = value;
    this.#least[slot] = isKnown ? value : Infinity;
    this.#greatest[slot] = isKnown ? value : -Infinity;
    this.#sum[slot] = 0;
    this.#known[slot] = 0;
    this.#since[slot] = now;
  }

  #spend(slot: number, now: Micros): void {
    const value = this.#value[slot];
    const length = now - this.#since[slot];
    this.#since[slot] = now;
    if (value !== value || length <= 0) return;
    this.#sum[slot] += value * length;
    this.#known[slot] += length;
  }

  #grow(): void {
    const size = 2 * this.#value.length;
    this.#value = grown(this.#value, size);
    this.#least = grown(this.#least, size);
    this.#greatest = grown(this.#greatest, size);
    this.#sum = grown(this.#sum, size);
    this.#known = grown(this.#known, size);
    this.#since = grown(this.#since, size);
    this.#last = grown(this.#last, size);
    const isAngle = new Uint8Array(size);
    isAngle.set(this.#isAngle);
    this.#isAngle = isAngle;
  }
}

function grown(from: Float64Array, size: number): Float64Array<ArrayBuffer> {
  const to = new Float64Array(size);
  to.set(from);
  return to;
}
