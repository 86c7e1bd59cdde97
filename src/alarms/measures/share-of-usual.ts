import type { Micros } from "../../ground/time.ts";
import { goodValue } from "./good-value.ts";
import type { Measure, MeasureRecord, Readings } from "./measure.ts";
import { Usual, type UsualManner } from "./usual.ts";

/**
 * A signal as a percentage of what it usually reads in the same band of another one; for `low` and
 * `high` with a usual setpoint. Of the learned usual and the fixed baseline the stricter counts.
 */
export class ShareOfUsual implements Measure {
  figure = NaN;
  readonly isKept = true;
  readonly isOfAnswers = false;
  readonly nextDue: Micros = Infinity;
  readonly #usual: Usual;

  /** @param by the signal of the bands; -1 while nothing sends it, null for one band */
  constructor(
    readonly signal: number,
    readonly by: number | null,
    readonly side: "low" | "high",
    manner: UsualManner,
  ) {
    this.#usual = new Usual(manner);
  }

  follow({ table }: Readings, now: Micros, mayLearn: boolean): void {
    const value = goodValue(table, this.signal);
    const by = this.by === null ? 0 : goodValue(table, this.by);
    this.#usual.take(mayLearn ? value : NaN, by, now);
    const { usual, baseline } = this.#usual.known(by);
    const reference = this.side === "low" ? Math.max(usual, baseline) : Math.min(usual, baseline);
    this.figure = reference === 0 ? NaN : 100 * value / reference;
  }

  adopt(earlier: Measure): void {
    if (earlier instanceof ShareOfUsual) this.#usual.adopt(earlier.#usual);
  }

  keep(now: Micros): MeasureRecord | null {
    return this.#usual.keep(now);
  }

  recall(record: MeasureRecord): void {
    this.#usual.recall(record);
  }
}
