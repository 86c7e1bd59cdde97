import type { Clock } from "../../ground/clock.ts";
import { type Micros, MILLISECOND, SECOND } from "../../ground/time.ts";

/** A program that looks every 100 ms and has not looked for so long was stopped, or had no processor. */
const LONGEST_LOOK: Micros = 500 * MILLISECOND;
/** Afterwards what has waited for us comes within so long of each other. */
const SETTLES: Micros = 300 * MILLISECOND;
/** A computer that is always so busy must not keep time from passing for ever. */
const LONGEST_CATCHING_UP: Micros = 5 * SECOND;

/**
 * Whether this program is only just awake again, so that frames of the time when it was not are still
 * on their way to it.
 */
export class Stall {
  #lastLook: Micros;
  /** The last look was in time, and nothing waited. */
  #wasCalm = true;
  #begun: Micros = -Infinity;
  #ends: Micros = -Infinity;

  /** @param waits whether anything is known to wait for us at this moment */
  constructor(readonly clock: Clock, readonly waits: () => boolean) {
    this.#lastLook = clock.steady();
  }

  /** To be asked often. True while what waited is still coming. */
  isCatchingUp(): boolean {
    const now = this.clock.steady();
    const late = now - this.#lastLook - LONGEST_LOOK;
    const wasStopped = late > 0;
    this.#lastLook = now;
    if (wasStopped) {
      // While it is stopped it does not catch up.
      this.#begun = this.#wasCalm ? now : this.#begun + late;
      this.stillComes();
    } else if (!this.#wasCalm && now >= this.#ends && this.waits()) this.stillComes();
    const isCatchingUp = now < this.#ends;
    this.#wasCalm = !wasStopped && !isCatchingUp;
    return isCatchingUp;
  }

  /** Something came that had waited: there may be more of it. */
  stillComes(): void {
    const most = this.#begun + LONGEST_CATCHING_UP;
    this.#ends = Math.min(most, this.#lastLook + SETTLES);
  }
}
