import { DAY, type Micros, SECOND } from "../ground/time.ts";
import { METRES_A_DEGREE, type Motion, RADIANS } from "./motion.ts";
import type { Random } from "./random.ts";
import { Wander } from "./wander.ts";

/** An old receiver counts weeks with ten bits and falls back this many days. */
const ROLLOVER = 1024 * 7;

/** What the satellite receiver believes. */
export type Belief = "truth" | "old-date" | "nothing" | "zero";

/** Where and when the receiver thinks it is. */
export class SatelliteFix {
  belief: Belief = "truth";
  /** About how many metres the fix strays among masts and walls; seldom three times that. */
  straying = 0;
  readonly #north: Wander;
  readonly #east: Wander;

  constructor(random: Random, readonly motion: Motion) {
    this.#north = new Wander(random, 1, 150);
    this.#east = new Wander(random, 1, 150);
  }

  step(seconds: number): void {
    this.#north.step(seconds);
    this.#east.step(seconds);
  }

  /** Degrees; null without a fix. */
  get latitude(): number | null {
    return this.#believed(
      this.motion.latitude + this.straying * this.#north.value / METRES_A_DEGREE,
    );
  }

  get longitude(): number | null {
    const metres = METRES_A_DEGREE * Math.cos(this.motion.mooring.latitude * RADIANS);
    return this.#believed(this.motion.longitude + this.straying * this.#east.value / metres);
  }

  /** Days since 1970, and seconds of the day. */
  dateAndTime(time: Micros): { readonly date: number | null; readonly time: number | null } {
    if (this.belief === "nothing" || this.belief === "zero") return { date: null, time: null };
    const date = Math.floor(time / DAY) - (this.belief === "old-date" ? ROLLOVER : 0);
    return { date, time: (time % DAY) / SECOND };
  }

  get moving(): boolean {
    return this.belief === "truth" || this.belief === "old-date";
  }

  #believed(degrees: number): number | null {
    if (this.belief === "nothing") return null;
    return this.belief === "zero" ? 0 : degrees;
  }
}
