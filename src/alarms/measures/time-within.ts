import { type Micros, SECOND } from "../../ground/time.ts";
import { Kleene } from "../life-cycle/kleene.ts";
import type { Measure, MeasureRecord, Readings } from "./measure.ts";

/** More spells than matter: the oldest of more are forgotten. */
const MOST_SPELLS = 1000;

/** From when to when the state was known to be there; still there where `to` is Infinity. */
interface Spell {
  readonly from: Micros;
  to: Micros;
}

/**
 * For how many seconds a state has been there in the last `within`, or in this go where that is
 * Infinity; for `running-time`. Time during which the state is not known counts for nothing and ends
 * nothing; what was seen still counts, and enough is enough.
 */
export class TimeWithin implements Measure {
  figure = NaN;
  readonly isKept = true;
  nextDue: Micros = Infinity;
  #spells: Spell[] = [];

  constructor(readonly step: number, readonly within: Micros, readonly limit: Micros) {}

  follow({ program }: Readings, now: Micros): void {
    const answer = program.evaluate(this.step);
    const last = this.#spells.at(-1);
    const isOpen = last !== undefined && last.to === Infinity;
    if (answer === Kleene.yes && !isOpen) this.#spells.push({ from: now, to: Infinity });
    if (answer !== Kleene.yes && isOpen) last.to = now;
    if (answer === Kleene.no && this.within === Infinity) this.#spells = [];
    const begin = now - this.within;
    while (this.#spells.length > 0 && this.#spells[0].to <= begin) this.#spells.shift();
    if (this.#spells.length > MOST_SPELLS) this.#spells.shift();

    const total = this.#total(now);
    const isKnown = answer !== Kleene.unknown || total >= this.limit;
    this.figure = isKnown ? total / SECOND : NaN;
    this.nextDue = this.#nextDue(total, now);
  }

  figureAt(now: Micros): number {
    return Number.isNaN(this.figure) ? NaN : this.#total(now) / SECOND;
  }

  #total(now: Micros): Micros {
    const begin = now - this.within;
    let total = 0;
    for (const { from, to } of this.#spells) {
      total += Math.max(0, Math.min(to, now) - Math.max(from, begin));
    }
    return total;
  }

  /** The limit is reached or left, or the window begins elsewhere in relation to a spell. */
  #nextDue(total: Micros, now: Micros): Micros {
    if (this.#spells.length === 0) return Infinity;
    const [oldest] = this.#spells;
    const grows = this.#spells.at(-1)?.to === Infinity;
    const shrinks = oldest.from <= now - this.within;
    const edge = this.within + (shrinks ? oldest.to : oldest.from);
    if (grows && !shrinks && total < this.limit) return Math.min(edge, now + this.limit - total);
    if (shrinks && !grows && total >= this.limit) {
      return Math.min(edge, now + total - this.limit + 1);
    }
    return edge;
  }

  adopt(earlier: Measure): void {
    if (earlier instanceof TimeWithin) this.#spells = earlier.#spells;
  }

  /** Ages, not instants: the time while the computer was off counts for nothing. */
  keep(now: Micros): MeasureRecord | null {
    if (this.#spells.length === 0) return null;
    return {
      from: this.#spells.map(({ from }) => now - from),
      to: this.#spells.map(({ to }) => Math.max(0, now - to)),
    };
  }

  recall({ from, to }: MeasureRecord, now: Micros): void {
    if (from === undefined || to === undefined || from.length !== to.length) return;
    this.#spells = from.map((age, i) => ({ from: now - age, to: now - to[i] }));
  }
}
