import { type Micros, SECOND } from "./time.ts";

/** Stamps may run back by this much without being a step: two buses, or late hand-over. */
const DISORDER: Micros = SECOND;

/**
 * 2000-01-01: before it no bus of ours was there, and a stamp is of a computer whose clock began
 * anew and was not set yet.
 */
const FIRST_CREDIBLE: Micros = 946_684_800 * SECOND;

/**
 * Makes steady time out of the stamps of frames. A stamp that lies well before the one before it is
 * a step of the clock that made it: steady time stands still there and then goes on. So does it where
 * a clock that was never set is, and where a caller knows better. Any other stamp that lies far ahead
 * is a gap.
 */
export class Timeline {
  /** Steady time now; 0 before the first stamp. */
  now: Micros = 0;
  /** Steps seen so far. */
  steps = 0;
  /** How far the clock on the wall was set, where stamps do not show it. */
  wallShift: Micros = 0;
  /** What the clock on the wall says before the first stamp, where somebody has a clock. */
  wallBefore: Micros = 0;
  #correction: Micros = 0;

  /** Moves steady time on to a stamp and returns it. */
  reach(stamp: Micros): Micros {
    const steady = stamp + this.#correction;
    if (this.#isSetFirst(stamp)) this.step(stamp);
    else if (steady >= this.now) this.now = steady;
    else if (this.now - steady > DISORDER) this.step(stamp);
    return this.now;
  }

  /** The clock that makes the stamps was set to this one: steady time stands still. */
  step(stamp: Micros): void {
    this.#correction = this.now - stamp;
    this.steps++;
  }

  /** Whether the clock that makes the stamps was set since the last one, for the first time. */
  #isSetFirst(stamp: Micros): boolean {
    return this.now - this.#correction < FIRST_CREDIBLE && stamp >= FIRST_CREDIBLE &&
      this.now > 0;
  }

  /** The steady time of a stamp since the last step; `now` stays what it is. */
  steadyOf(stamp: Micros): Micros {
    return stamp + this.#correction;
  }

  /** What the clock on the wall said at a steady time since the last step. */
  wallOf(steady: Micros): Micros {
    if (this.now === 0) return this.wallBefore;
    return steady - this.#correction + this.wallShift;
  }
}
