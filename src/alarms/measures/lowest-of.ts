import type { Micros } from "../../ground/time.ts";
import { TimedValues } from "./timed-values.ts";

/**
 * The exact lowest value of a stepwise signal over the last `length`: a value leaves at the instant
 * at which it was superseded plus `length`. The values kept rise, so that the oldest is the lowest;
 * one that is not lower than a later one can never be the lowest again and is not kept.
 */
export class LowestOf {
  /** With the time at which each leaves. */
  readonly #rising = new TimedValues();
  /** Whether the latest is the present value, which has no end yet. */
  #hasPresent = false;

  constructor(readonly length: Micros) {}

  /** The signal takes a value; NaN while it is not known. */
  take(value: number, now: Micros): void {
    const rising = this.#rising;
    this.expire(now);
    if (this.#hasPresent) {
      const present = rising.count - 1;
      if (rising.value(present) === value) return;
      rising.setTime(present, now + this.length);
      this.#hasPresent = false;
    }
    if (Number.isNaN(value)) return;
    while (rising.count > 0 && rising.value(rising.count - 1) >= value) rising.dropLatest();
    rising.add(value, Infinity);
    this.#hasPresent = true;
  }

  /** Takes over the values of an earlier window of the same length. */
  adopt(earlier: LowestOf): void {
    this.#rising.adopt(earlier.#rising);
    this.#hasPresent = earlier.#hasPresent;
  }

  /** Lets go of what has left by now. */
  expire(now: Micros): void {
    const rising = this.#rising;
    while (rising.count > 0 && rising.time(0) <= now) rising.dropOldest();
  }

  /** NaN while the present value is not known. */
  get lowest(): number {
    return this.#hasPresent ? this.#rising.value(0) : NaN;
  }

  /** When the lowest value leaves; Infinity when it is the present one, or there is none. */
  get nextLeave(): Micros {
    return this.#rising.count === 0 ? Infinity : this.#rising.time(0);
  }
}
