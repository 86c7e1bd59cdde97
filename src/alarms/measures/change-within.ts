import type { Micros } from "../../ground/time.ts";
import { goodValue } from "./good-value.ts";
import type { Measure, Readings } from "./measure.ts";
import { StepHistory } from "./step-history.ts";

/** How far a signal has risen, or fallen, from what it read `within` ago; for `rate-of-change`. */
export class ChangeWithin implements Measure {
  figure = NaN;
  readonly isKept = false;
  nextDue: Micros = Infinity;
  readonly #history: StepHistory;

  /** @param sign 1 for a rise, -1 for a fall */
  constructor(readonly signal: number, readonly sign: 1 | -1, within: Micros) {
    this.#history = new StepHistory(within);
  }

  follow({ table }: Readings, now: Micros): void {
    const value = goodValue(table, this.signal);
    this.#history.take(value, now);
    this.figure = this.sign * (value - this.#history.then(now));
    this.nextDue = this.#history.nextStep(now);
  }

  adopt(earlier: Measure): void {
    if (earlier instanceof ChangeWithin) this.#history.adopt(earlier.#history);
  }

  /** Nobody knows what the signal did while the computer was off. */
  keep(): null {
    return null;
  }

  recall(): void {}
}
