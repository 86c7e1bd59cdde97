import { type Micros, SECOND } from "../../ground/time.ts";
import type { InferredBy } from "../boat.ts";

/** A step that takes several messages is one step. */
export const SETTLING: Micros = 2 * SECOND;
/** Steps up and down of one load differ by no more than this share of it: volts sag and rise. */
const ALIKE = 0.25;
/** Changes below this share of the smallest step are the noise of other loads. */
export const NOISE = 0.25;

interface Begun {
  readonly at: Micros;
  /** A. */
  readonly size: number;
}

/**
 * Runs of one load, seen as steps of a battery's current (positive into the battery): it falls by so
 * much, and comes up by as much when the run is over. What runs for longer, such as a fridge, is
 * another load; so a run is known only when it is over.
 */
export class LoadRuns {
  /** When a step is over though nothing more comes. */
  nextDue: Micros = Infinity;
  #level = NaN;
  /** The step that is being made. */
  #step: { readonly at: Micros; size: number } | null = null;
  #begun: Begun[] = [];

  constructor(readonly by: InferredBy) {}

  /** @param current A; NaN while not known @returns how long the run was that is now known to be over; null for none */
  take(current: number, now: Micros): Micros | null {
    const change = current - this.#level;
    this.#level = current;
    if (Number.isNaN(current)) return this.#forget();
    if (!(Math.abs(change) > NOISE * this.by.step.from)) return null;
    const goesOn = this.#step !== null && Math.sign(this.#step.size) === Math.sign(change);
    const ended = goesOn ? null : this.#end();
    this.#step ??= { at: now, size: 0 };
    this.#step.size += change;
    this.nextDue = now + SETTLING;
    return ended;
  }

  /** The step is over. @returns as `take` */
  runTimer(): Micros | null {
    return this.#end();
  }

  #forget(): null {
    this.#step = null;
    this.#begun = [];
    this.nextDue = Infinity;
    return null;
  }

  #end(): Micros | null {
    const step = this.#step;
    this.#step = null;
    this.nextDue = Infinity;
    if (step === null || !isIn(this.by.step, Math.abs(step.size))) return null;
    const { at, size } = step;
    if (size < 0) {
      this.#begun.push({ at, size: -size });
      return null;
    }
    this.#begun = this.#begun.filter((one) => at - one.at < this.by.lasting.to);
    const [best] = this.#begun.filter((one) => Math.abs(one.size - size) <= ALIKE * size)
      .toSorted((a, b) => Math.abs(a.size - size) - Math.abs(b.size - size));
    if (best === undefined) return null;
    this.#begun = this.#begun.filter((one) => one !== best);
    const lasted = at - best.at;
    return isIn(this.by.lasting, lasted) ? lasted : null;
  }
}

function isIn({ from, to }: { readonly from: number; readonly to: number }, value: number) {
  return value >= from && value < to;
}
