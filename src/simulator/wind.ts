import { type Motion, RADIANS, turned } from "./motion.ts";
import type { Random } from "./random.ts";
import { Wander } from "./wander.ts";

/** A south-westerly with gusts, as the boat feels it. */
export class Wind {
  /** m/s. */
  apparentSpeed = 0;
  /** Radians clockwise from the bow, 0 to 2π. */
  apparentAngle = 0;
  readonly #gusts: Wander;
  readonly #shifts: Wander;

  constructor(random: Random) {
    this.#gusts = new Wander(random, 0.9, 8);
    this.#shifts = new Wander(random, 8 * RADIANS, 30);
  }

  step(seconds: number, motion: Motion): void {
    const speed = Math.max(0, 5.5 + this.#gusts.step(seconds));
    const from = 230 * RADIANS + this.#shifts.step(seconds);
    const north = speed * Math.cos(from) +
      motion.speedOverGround * Math.cos(motion.courseOverGround);
    const east = speed * Math.sin(from) +
      motion.speedOverGround * Math.sin(motion.courseOverGround);
    this.apparentSpeed = Math.hypot(north, east);
    this.apparentAngle = turned(Math.atan2(east, north) - motion.heading);
  }
}
