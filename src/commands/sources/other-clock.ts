import type { FrameBatch } from "../../bus/frame-batch.ts";
import type { Clock } from "../../ground/clock.ts";
import { type Micros, SECOND } from "../../ground/time.ts";

/** Frames are late by different times, but a clock that is so far off was set. */
const MOST_APART: Micros = SECOND;
/** Who gives what was recorded at once does not keep pace with our clock for so long. */
const KEEPS_PACE: Micros = 3 * SECOND;

/**
 * The clock of another computer that stamps the frames of the only live source: one without a
 * battery of its own begins where it stopped, and is set forward once it has found the network.
 * Nothing can be stamped later than now, so who kept pace with us and then is ahead was set.
 */
export class OtherClock {
  /** By how much it is ahead of our steady clock. */
  #ahead: Micros = NaN;
  /** The first stamp and the last since it keeps pace. */
  #first: Micros = NaN;
  #last: Micros = NaN;

  constructor(readonly clock: Clock) {}

  /** Frames have just come. @returns the first that was stamped after the clock was set; -1 if none */
  setForwardIn({ times, count }: FrameBatch): number {
    const last = times[count - 1];
    const now = this.clock.steady();
    const ahead = last - now;
    const before = this.#ahead;
    if (Math.abs(ahead - before) <= MOST_APART) {
      this.#ahead = Math.max(before, ahead);
      this.#last = last;
      return -1;
    }
    const keptPace = this.#last - this.#first >= KEEPS_PACE;
    this.#ahead = ahead;
    this.#first = this.#last = last;
    if (!keptPace || ahead < before) return -1;
    return times.subarray(0, count).findIndex((time) => time - now > before + MOST_APART);
  }
}
