import type { Clock } from "../../ground/clock.ts";
import type { Micros } from "../../ground/time.ts";

/**
 * A clock whose steady time stands still until somebody looks at it again. A program can be stopped
 * between any two of its steps: who has asked whether it was, and then lets time pass, must not read
 * another time for the second than for the first.
 */
export class HeldClock implements Clock {
  #steady: Micros;

  constructor(readonly clock: Clock) {
    this.#steady = clock.steady();
  }

  look(): void {
    this.#steady = this.clock.steady();
  }

  steady(): Micros {
    return this.#steady;
  }

  wall(): Micros {
    return this.clock.wall();
  }
}
