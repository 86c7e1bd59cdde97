import { type Micros, MILLISECOND, MINUTE } from "../../../ground/time.ts";

/** A frame that comes later than this after its stamp was not held up: the adapter's clock differs. */
const MOST_LATE: Micros = 100 * MILLISECOND;
/** How slowly a lateness that lasts is taken for a difference of the clocks. */
const CREEP = 1 / 1024;

/**
 * Stamps from an adapter that counts milliseconds within a minute. They tell frames apart that came
 * in one piece over the serial line; how the adapter's clock lies to ours is learned from when they
 * arrive: a frame cannot have come before it was stamped, and most are not late.
 */
export class AdapterTime {
  /** What is added to the adapter's time; undefined before the first stamp. */
  #offset: Micros | undefined;
  #last: Micros = -Infinity;

  /**
   * The time of a frame that arrived at `arrival`.
   * @param milliseconds what the adapter says, from 0 to 59,999
   */
  stamp(milliseconds: number, arrival: Micros): Micros {
    const within = milliseconds * MILLISECOND;
    const offset = this.#offset ?? arrival - within;
    const minutes = Math.round((arrival - within - offset) / MINUTE) * MINUTE;
    const late = arrival - within - offset - minutes;
    const sound = late >= 0 && late <= MOST_LATE;
    this.#offset = offset + minutes + Math.round(sound ? late * CREEP : late);
    const time = sound ? arrival - late : arrival;
    this.#last = Math.max(this.#last, time);
    return this.#last;
  }

  /** Our own clock was set: everything is learned anew. */
  forget(): void {
    this.#offset = undefined;
    this.#last = -Infinity;
  }
}
