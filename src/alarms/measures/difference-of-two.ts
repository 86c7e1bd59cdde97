import type { Micros } from "../../ground/time.ts";
import { goodValue } from "./good-value.ts";
import type { Measure, MeasureRecord, Readings } from "./measure.ts";
import { Usual, type UsualManner } from "./usual.ts";

/**
 * How far two signals of one unit lie apart, whichever is the greater; for `deviation`. Beyond their
 * usual difference, where one is learned.
 */
export class DifferenceOfTwo implements Measure {
  figure = NaN;
  readonly isKept: boolean;
  readonly isOfAnswers = false;
  readonly nextDue: Micros = Infinity;
  readonly #usual: Usual | null;

  /** @param asShare as a percentage of the greater one */
  constructor(
    readonly one: number,
    readonly other: number,
    readonly asShare: boolean,
    usual: UsualManner | null,
  ) {
    this.isKept = usual !== null;
    this.#usual = usual === null ? null : new Usual(usual);
  }

  follow({ table }: Readings, now: Micros, mayLearn: boolean): void {
    const one = goodValue(table, this.one);
    const other = goodValue(table, this.other);
    const apart = one - other;
    const whole = Math.max(Math.abs(one), Math.abs(other));
    const difference = this.asShare && apart !== 0 ? 100 * apart / whole : apart;
    this.figure = Math.abs(difference - this.#usually(difference, now, mayLearn));
  }

  #usually(difference: number, now: Micros, mayLearn: boolean): number {
    if (this.#usual === null) return 0;
    this.#usual.take(mayLearn ? difference : NaN, 0, now);
    return this.#usual.known(0).usual;
  }

  adopt(earlier: Measure): void {
    if (!(earlier instanceof DifferenceOfTwo) || earlier.#usual === null) return;
    this.#usual?.adopt(earlier.#usual);
  }

  keep(now: Micros): MeasureRecord | null {
    return this.#usual?.keep(now) ?? null;
  }

  recall(record: MeasureRecord): void {
    this.#usual?.recall(record);
  }
}
