import type { Micros } from "../../ground/time.ts";

/**
 * The exact lowest value of a stepwise signal over the last `length`: a value leaves at the instant
 * at which it was superseded plus `length`. Values in `#values` rise, so that the first is the
 * lowest; one that is not lower than a later one can never be the lowest again and is not kept.
 */
export class LowestOf {
  #values = new Float64Array(16);
  #leaves = new Float64Array(16);
  #first = 0;
  #count = 0;
  /** Whether the last entry is the present value, which has no end yet. */
  #hasPresent = false;

  constructor(readonly length: Micros) {}

  /** The signal takes a value; NaN while it is not known. */
  take(value: number, now: Micros): void {
    this.expire(now);
    if (this.#hasPresent) {
      const present = this.#at(this.#count - 1);
      if (this.#values[present] === value) return;
      this.#leaves[present] = now + this.length;
      this.#hasPresent = false;
    }
    if (Number.isNaN(value)) return;
    while (this.#count > 0 && this.#values[this.#at(this.#count - 1)] >= value) this.#count--;
    if (this.#count === this.#values.length) this.#grow();
    const last = this.#at(this.#count++);
    this.#values[last] = value;
    this.#leaves[last] = Infinity;
    this.#hasPresent = true;
  }

  /** Takes over the values of an earlier window of the same length. */
  adopt(earlier: LowestOf): void {
    this.#values = earlier.#values;
    this.#leaves = earlier.#leaves;
    this.#first = earlier.#first;
    this.#count = earlier.#count;
    this.#hasPresent = earlier.#hasPresent;
  }

  /** Lets go of what has left by now. */
  expire(now: Micros): void {
    while (this.#count > 0 && this.#leaves[this.#first] <= now) {
      this.#first = (this.#first + 1) % this.#values.length;
      this.#count--;
    }
  }

  /** NaN while the present value is not known. */
  get lowest(): number {
    return this.#hasPresent ? this.#values[this.#first] : NaN;
  }

  /** When the lowest value leaves; Infinity when it is the present one, or there is none. */
  get nextLeave(): Micros {
    return this.#count === 0 ? Infinity : this.#leaves[this.#first];
  }

  #at(place: number): number {
    return (this.#first + place) % this.#values.length;
  }

  #grow(): void {
    const values = new Float64Array(this.#values.length * 2);
    const leaves = new Float64Array(values.length);
    for (let i = 0; i < this.#count; i++) {
      values[i] = this.#values[this.#at(i)];
      leaves[i] = this.#leaves[this.#at(i)];
    }
    this.#values = values;
    this.#leaves = leaves;
    this.#first = 0;
  }
}
