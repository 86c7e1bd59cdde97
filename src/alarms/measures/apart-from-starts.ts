import { goodValue } from "./good-value.ts";
import type { Measure, MeasureRecord, Readings } from "./measure.ts";
import type { Micros } from "../../ground/time.ts";

/**
 * How far a signal that is told once a start lies under (or over) the median of its own last starts;
 * for `low` and `high` with a setpoint of starts. Of the median and the fixed first one the stricter
 * counts. Starts are told apart by when they were told, not by what: two with one value are two.
 *
 * With several starts in a row to judge, the best of them is held against the median: a reading that
 * happened to fall into the first rush of a starter is one of a kind.
 */
export class ApartFromStarts implements Measure {
  figure = NaN;
  readonly isKept = true;
  readonly isOfAnswers = false;
  readonly nextDue: Micros = Infinity;
  /** Learned, the latest last. */
  #starts: number[] = [];
  /** The last ones, learned or not, the latest last. */
  #row: number[] = [];
  /** The first median that was known: from commissioning, and never learned again. */
  #baseline = NaN;
  #toldAt: Micros = NaN;

  constructor(
    readonly signal: number,
    readonly side: "low" | "high",
    /** How many of the last starts count. */
    readonly most: number,
    readonly inARow: number,
    /** A start further apart than this teaches nothing. */
    readonly limit: number,
  ) {}

  /** Nothing is known of fewer starts: half of those that count. */
  get #least(): number {
    return Math.ceil(this.most / 2);
  }

  get lack(): string {
    const { length } = this.#starts;
    return length < this.#least
      ? `only ${length} of ${this.#least} starts known`
      : "the next start is the first that can be judged";
  }

  follow({ table }: Readings, _now: Micros, mayLearn: boolean): void {
    const value = goodValue(table, this.signal);
    if (Number.isNaN(value)) this.figure = NaN;
    if (Number.isNaN(value) || table.changedAt[this.signal] === this.#toldAt) return;
    this.#toldAt = table.changedAt[this.signal];
    this.#row = [...this.#row, value].slice(-this.inARow);
    this.figure = this.#isKnown ? this.#apart() : NaN;
    // Never learned from a start that is beyond the limit.
    if (mayLearn && !(this.figure > this.limit)) this.#learn(value);
  }

  get #isKnown(): boolean {
    return this.#starts.length >= this.#least && this.#row.length === this.inARow;
  }

  #apart(): number {
    const usual = median(this.#starts);
    return this.side === "low"
      ? Math.max(usual, this.#baseline) - Math.max(...this.#row)
      : Math.min(...this.#row) - Math.min(usual, this.#baseline);
  }

  #learn(value: number): void {
    this.#starts = [...this.#starts, value].slice(-this.most);
    const isKnown = this.#starts.length >= this.#least;
    if (isKnown && Number.isNaN(this.#baseline)) this.#baseline = median(this.#starts);
  }

  adopt(earlier: Measure): void {
    if (!(earlier instanceof ApartFromStarts)) return;
    this.figure = earlier.figure;
    this.#starts = earlier.#starts;
    this.#row = earlier.#row;
    this.#baseline = earlier.#baseline;
    this.#toldAt = earlier.#toldAt;
  }

  keep(): MeasureRecord | null {
    if (this.#row.length === 0) return null;
    const baseline = Number.isNaN(this.#baseline) ? [] : [this.#baseline];
    return { starts: this.#starts, row: this.#row, baseline };
  }

  recall({ starts = [], row = [], baseline = [] }: MeasureRecord): void {
    this.#starts = starts.slice(-this.most);
    this.#row = row.slice(-this.inARow);
    this.#baseline = baseline[0] ?? NaN;
  }
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
}
