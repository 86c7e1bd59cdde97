import { type Micros, SECOND } from "../../ground/time.ts";
import { Kleene } from "../life-cycle/kleene.ts";
import type { Measure, MeasureRecord, Readings } from "./measure.ts";
import { TimedValues } from "./timed-values.ts";

/** More spells than matter: the oldest of more are forgotten. */
const MOST_SPELLS = 1000;

/**
 * For how many seconds a state has been there in the last `within`, or in this go where that is
 * Infinity; for `running-time`. Time during which the state is not known counts for nothing and ends
 * nothing; what was seen still counts, and enough is enough.
 */
export class TimeWithin implements Measure {
  figure = NaN;
  readonly isKept = true;
  readonly isOfAnswers = true;
  nextDue: Micros = Infinity;
  /** Spells during which the state was known to be there: from when, and to when. */
  #spells = new TimedValues();
  /** Whether the latest goes on; it has no end yet. */
  #isOpen = false;
  /** How long those took that have ended, added up. */
  #ended: Micros = 0;

  constructor(readonly step: number, readonly within: Micros, readonly limit: Micros) {}

  follow({ program }: Readings, now: Micros): void {
    const answer = program.evaluate(this.step);
    if (answer === Kleene.yes && !this.#isOpen) this.#begin(now);
    if (answer !== Kleene.yes && this.#isOpen) this.#end(now);
    if (answer === Kleene.no && this.within === Infinity) this.#forget();
    const begin = now - this.within;
    while (this.#spells.count > 0 && this.#endOf(0) <= begin) this.#dropOldest();
    if (this.#spells.count > MOST_SPELLS) this.#dropOldest();

    const total = this.#total(now);
    const isKnown = answer !== Kleene.unknown || total >= this.limit;
    this.figure = isKnown ? total / SECOND : NaN;
    this.nextDue = this.#nextDue(total, now);
  }

  figureAt(now: Micros): number {
    return Number.isNaN(this.figure) ? NaN : this.#total(now) / SECOND;
  }

  #begin(now: Micros): void {
    this.#spells.add(now, Infinity);
    this.#isOpen = true;
  }

  #end(now: Micros): void {
    const latest = this.#spells.count - 1;
    this.#spells.setTime(latest, now);
    this.#ended += now - this.#spells.value(latest);
    this.#isOpen = false;
  }

  #forget(): void {
    this.#spells = new TimedValues();
    this.#isOpen = false;
    this.#ended = 0;
  }

  /** Of several: the oldest has ended. */
  #dropOldest(): void {
    this.#ended -= this.#endOf(0) - this.#spells.value(0);
    this.#spells.dropOldest();
  }

  #endOf(place: number): Micros {
    return this.#spells.time(place);
  }

  /** All of them, less what lies before the window begins. */
  #total(now: Micros): Micros {
    const spells = this.#spells;
    const begin = now - this.within;
    let total = this.#ended;
    if (this.#isOpen) total += now - spells.value(spells.count - 1);
    for (let place = 0; place < spells.count && spells.value(place) < begin; place++) {
      total -= Math.min(spells.time(place), begin) - spells.value(place);
    }
    return total;
  }

  /** The limit is reached or left, or the window begins elsewhere in relation to a spell. */
  #nextDue(total: Micros, now: Micros): Micros {
    if (this.#spells.count === 0) return Infinity;
    const grows = this.#isOpen;
    const oldest = this.#spells.value(0);
    const shrinks = oldest <= now - this.within;
    const edge = this.within + (shrinks ? this.#endOf(0) : oldest);
    if (grows && !shrinks && total < this.limit) return Math.min(edge, now + this.limit - total);
    if (shrinks && !grows && total >= this.limit) {
      return Math.min(edge, now + total - this.limit + 1);
    }
    return edge;
  }

  adopt(earlier: Measure): void {
    if (!(earlier instanceof TimeWithin)) return;
    this.#spells = earlier.#spells;
    this.#isOpen = earlier.#isOpen;
    this.#ended = earlier.#ended;
  }

  /** Ages, not instants: the time while the computer was off counts for nothing. */
  keep(now: Micros): MeasureRecord | null {
    if (this.#spells.count === 0) return null;
    const places = Array.from({ length: this.#spells.count }, (_, place) => place);
    return {
      from: places.map((place) => now - this.#spells.value(place)),
      to: places.map((place) => Math.max(0, now - this.#endOf(place))),
    };
  }

  recall({ from, to }: MeasureRecord, now: Micros): void {
    if (from === undefined || to === undefined || from.length !== to.length) return;
    this.#forget();
    for (const [place, age] of from.entries()) {
      this.#spells.add(now - age, now - to[place]);
      this.#ended += age - to[place];
    }
  }
}
