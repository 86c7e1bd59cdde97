import type { Micros } from "../../ground/time.ts";
import { goodValue } from "./good-value.ts";
import { LowestOf } from "./lowest-of.ts";
import type { Measure, Readings } from "./measure.ts";
import { StepHistory } from "./step-history.ts";

/** How far a signal has risen, or fallen, from what it read `within` ago; for `rate-of-change`. */
export class ChangeWithin implements Measure {
  figure = NaN;
  readonly isKept = false;
  readonly isOfAnswers = false;
  nextDue: Micros = Infinity;
  readonly #history: StepHistory;
  /** Of the signal times `sign`. */
  readonly #lowest: LowestOf;
  /** From then on the signal has been known for the whole window; Infinity while it is not known. */
  #wholeFrom: Micros = Infinity;

  /**
   * @param sign 1 for a rise, -1 for a fall
   * @param quietUpTo a change up to this leaves the test clear
   */
  constructor(
    readonly signal: number,
    readonly sign: 1 | -1,
    readonly within: Micros,
    readonly quietUpTo: number,
  ) {
    this.#history = new StepHistory(within);
    this.#lowest = new LowestOf(within);
  }

  follow({ table }: Readings, now: Micros): void {
    const value = goodValue(table, this.signal);
    this.#history.take(value, now);
    this.#lowest.take(this.sign * value, now);
    if (Number.isNaN(value)) this.#wholeFrom = Infinity;
    else if (this.#wholeFrom === Infinity) this.#wholeFrom = now + this.within;
    this.figure = this.sign * (value - this.#history.then(now));
    this.nextDue = this.#staysQuiet(value, now) ? Infinity : this.#history.nextStep(now);
  }

  /**
   * Whether the window may begin at any of its values before the next message comes, and the test
   * stays clear: so it is for most, and then no timer needs to follow each step out of the window.
   */
  #staysQuiet(value: number, now: Micros): boolean {
    return now >= this.#wholeFrom && this.sign * value - this.#lowest.lowest <= this.quietUpTo;
  }

  adopt(earlier: Measure): void {
    if (!(earlier instanceof ChangeWithin)) return;
    this.#history.adopt(earlier.#history);
    this.#lowest.adopt(earlier.#lowest);
    this.#wholeFrom = earlier.#wholeFrom;
  }

  /** Nobody knows what the signal did while the computer was off. */
  keep(): null {
    return null;
  }

  recall(): void {}
}
