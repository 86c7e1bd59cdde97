import type { Micros } from "../../ground/time.ts";

/** Changes closer together than this share of the window count as one, so that memory is bounded. */
const GRAIN = 2048;

/**
 * What a stepwise signal read over the last `length`; NaN while it was not known. The oldest step
 * kept is the one in effect at the window's beginning.
 */
export class StepHistory {
  #values = new Float64Array(64);
  #times = new Float64Array(64);
  #first = 0;
  #count = 0;
  readonly #grain: Micros;

  constructor(readonly length: Micros) {
    this.#grain = Math.floor(length / GRAIN);
  }

  /** The signal takes a value; NaN while it is not known. */
  take(value: number, now: Micros): void {
    this.expire(now);
    if (this.#count > 0) {
      const last = this.#at(this.#count - 1);
      if (Object.is(this.#values[last], value)) return;
      if (this.#count > 1 && now - this.#times[last] < this.#grain) {
        this.#values[last] = value;
        return;
      }
    }
    if (this.#count === this.#values.length) this.#grow();
    const last = this.#at(this.#count++);
    this.#values[last] = value;
    this.#times[last] = now;
  }

  /** Lets go of the steps that were over before the window began. */
  expire(now: Micros): void {
    while (this.#count > 1 && this.#times[this.#at(1)] <= now - this.length) {
      this.#first = (this.#first + 1) % this.#values.length;
      this.#count--;
    }
  }

  /** What the signal read when the window began; NaN where it was not known then. */
  then(now: Micros): number {
    if (this.#count === 0 || this.#times[this.#first] > now - this.length) return NaN;
    return this.#values[this.#first];
  }

  /** When the window begins at another value. */
  nextStep(now: Micros): Micros {
    if (this.#count === 0) return Infinity;
    if (this.#times[this.#first] > now - this.length) return this.#times[this.#first] + this.length;
    return this.#count === 1 ? Infinity : this.#times[this.#at(1)] + this.length;
  }

  adopt(earlier: StepHistory): void {
    this.#values = earlier.#values;
    this.#times = earlier.#times;
    this.#first = earlier.#first;
    this.#count = earlier.#count;
  }

  #at(place: number): number {
    return (this.#first + place) % this.#values.length;
  }

  #grow(): void {
    const values = new Float64Array(this.#values.length * 2);
    const times = new Float64Array(values.length);
    for (let i = 0; i < this.#count; i++) {
      values[i] = this.#values[this.#at(i)];
      times[i] = this.#times[this.#at(i)];
    }
    this.#values = values;
    this.#times = times;
    this.#first = 0;
  }
}
