import type { Micros } from "../../ground/time.ts";
import { Kleene } from "../life-cycle/kleene.ts";
import type { Measure, MeasureRecord, Readings } from "./measure.ts";
import { Usual, type UsualManner } from "./usual.ts";

/** More starts than any rule asks for: a contact that rattles must not fill the memory. */
const MOST_STARTS = 1000;

export interface CountManner {
  readonly within: Micros;
  readonly rest: Micros;
  readonly side: "at-least" | "at-most";
  readonly limit: number;
  /** Given: the figure is how many times the usual count it is, once it is `limit` at least. */
  readonly usual: UsualManner | null;
}

/**
 * How often a state began in the last `within`; for `count`. A start is seen when the state was last
 * known to be over, for `rest` at least, and is now known to be there. While the state is not known
 * the starts that were seen still count: enough of them are enough. "At most" can be said only
 * of a whole window.
 */
export class CountWithin implements Measure {
  figure = NaN;
  readonly isKept = true;
  /** What is usual is learned at each message. */
  readonly isOfAnswers: boolean;
  nextDue: Micros = Infinity;
  #starts: Micros[] = [];
  #overSince: Micros = Infinity;
  #last: Kleene = Kleene.unknown;
  /** The state was first known then. */
  #knownSince: Micros = Infinity;

  readonly #usual: Usual | null;

  constructor(readonly step: number, readonly manner: CountManner) {
    this.#usual = manner.usual === null ? null : new Usual(manner.usual);
    this.isOfAnswers = manner.usual === null;
  }

  follow({ program }: Readings, now: Micros, mayLearn: boolean): void {
    const { within, rest } = this.manner;
    const answer = program.evaluate(this.step);
    if (answer !== Kleene.unknown) this.#knownSince = Math.min(this.#knownSince, now);
    if (answer === Kleene.yes) {
      const isStart = this.#last === Kleene.no && now - this.#overSince >= rest;
      if (isStart) this.#starts.push(now);
      if (this.#starts.length > MOST_STARTS) this.#starts.shift();
      this.#last = answer;
    } else if (answer === Kleene.no) {
      if (this.#last !== Kleene.no) this.#overSince = now;
      this.#last = answer;
    }
    while (this.#starts.length > 0 && this.#starts[0] + within <= now) this.#starts.shift();
    const count = this.#isEnoughKnown(answer, now) ? this.#starts.length : NaN;
    this.figure = this.#usual === null
      ? count
      : this.#timesUsual(count, this.#usual, now, mayLearn);
    this.nextDue = this.#nextDue(now);
  }

  #timesUsual(count: number, usual: Usual, now: Micros, mayLearn: boolean): number {
    usual.take(mayLearn ? count : NaN, 0, now);
    const known = usual.known(0).usual;
    if (count < this.manner.limit) return Number.isNaN(known) ? NaN : 0;
    // A pump that never runs has no usual count to be a multiple of: once is usual enough.
    return count / Math.max(known, 1);
  }

  #isEnoughKnown(answer: Kleene, now: Micros): boolean {
    const { side, within, limit } = this.manner;
    const isKnown = answer !== Kleene.unknown;
    if (side === "at-least") return isKnown || this.#starts.length >= limit;
    return this.#starts.length > limit || isKnown && now - this.#knownSince >= within;
  }

  #nextDue(now: Micros): Micros {
    const { within, side } = this.manner;
    const leaves = this.#starts.length === 0 ? Infinity : this.#starts[0] + within;
    const isWhole = this.#knownSince + within;
    return side === "at-most" && isWhole > now ? Math.min(leaves, isWhole) : leaves;
  }

  adopt(earlier: Measure): void {
    if (!(earlier instanceof CountWithin)) return;
    this.#starts = earlier.#starts;
    this.#overSince = earlier.#overSince;
    this.#last = earlier.#last;
    this.#knownSince = earlier.#knownSince;
    if (earlier.#usual !== null) this.#usual?.adopt(earlier.#usual);
  }

  /** Ages, not instants: the time while the computer was off counts for nothing. */
  keep(now: Micros): MeasureRecord | null {
    if (this.#knownSince === Infinity) return null;
    return {
      ages: this.#starts.map((start) => now - start),
      known: [now - this.#knownSince],
      ...this.#usual?.keep(now),
    };
  }

  recall(record: MeasureRecord, now: Micros): void {
    const { ages, known } = record;
    this.#usual?.recall(record);
    this.#starts = (ages ?? []).map((age) => now - age);
    this.#knownSince = known?.length === 1 ? now - known[0] : Infinity;
  }
}
