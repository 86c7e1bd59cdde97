import { type Micros, MINUTE, SECOND } from "../ground/time.ts";

/** Intervals from which one knows how often something usually comes. */
const ENOUGH = 3;
/** So many times its usual interval is no mere delay. Judgement. */
const FAR_LONGER = 5;
/** Nobody pulls a plug for less. Judgement. */
const SHORTEST: Micros = 5 * SECOND;
/** What stays away longer was switched off, by all appearance. Judgement. */
const LONGEST: Micros = 10 * MINUTE;

/** How often something that usually comes stayed away for a while, and came again. */
export class Dropouts {
  count = 0;
  longest: Micros = 0;
  #intervals = 0;
  #sum: Micros = 0;

  /**
   * After each time that it came.
   * @param interval since the time before, without what nobody said anything
   * @param oldAge how long it may stay away
   */
  take(interval: Micros, oldAge: Micros): void {
    const usual = this.#intervals < ENOUGH ? Infinity : this.#sum / this.#intervals;
    if (interval <= Math.max(SHORTEST, oldAge, FAR_LONGER * usual)) {
      this.#intervals++;
      this.#sum += interval;
    } else if (interval <= LONGEST) {
      this.count++;
      this.longest = Math.max(this.longest, interval);
    }
  }
}
