import type { Micros } from "../../ground/time.ts";
import { TimedValues } from "./timed-values.ts";

/** Changes closer together than this share of the window count as one, so that memory is bounded. */
const GRAIN = 2048;

/**
 * What a stepwise signal read over the last `length`; NaN while it was not known. The oldest step
 * kept is the one in effect at the window's beginning.
 */
export class StepHistory {
  /** With the time at which each began. */
  readonly #steps = new TimedValues();
  readonly #grain: Micros;

  constructor(readonly length: Micros) {
    this.#grain = Math.floor(length / GRAIN);
  }

  /** The signal takes a value; NaN while it is not known. */
  take(value: number, now: Micros): void {
    const steps = this.#steps;
    this.expire(now);
    const last = steps.count - 1;
    if (last >= 0 && Object.is(steps.value(last), value)) return;
    if (last > 0 && now - steps.time(last) < this.#grain) steps.setValue(last, value);
    else steps.add(value, now);
  }

  /** Lets go of the steps that were over before the window began. */
  expire(now: Micros): void {
    const steps = this.#steps;
    while (steps.count > 1 && steps.time(1) <= now - this.length) steps.dropOldest();
  }

  /** What the signal read when the window began; NaN where it was not known then. */
  then(now: Micros): number {
    return this.#reachesBack(now) ? this.#steps.value(0) : NaN;
  }

  /** When the window begins at another value. */
  nextStep(now: Micros): Micros {
    const steps = this.#steps;
    if (steps.count === 0) return Infinity;
    if (!this.#reachesBack(now)) return steps.time(0) + this.length;
    return steps.count === 1 ? Infinity : steps.time(1) + this.length;
  }

  adopt(earlier: StepHistory): void {
    this.#steps.adopt(earlier.#steps);
  }

  /** Whether the oldest step was in effect when the window began. */
  #reachesBack(now: Micros): boolean {
    return this.#steps.count > 0 && this.#steps.time(0) <= now - this.length;
  }
}
