import type { Random } from "./random.ts";
import { Wander } from "./wander.ts";

/** A tank and what its sender makes of it. */
export class Tank {
  /** L. */
  content: number;
  readonly #slosh: Wander;
  #motion = 0;

  /** `capacity` in L, `full` as a share of 1. */
  constructor(random: Random, readonly capacity: number, full: number) {
    this.content = capacity * full;
    this.#slosh = new Wander(random, 1, 4);
  }

  /** `flow` in L/h, positive into the tank; `motion` is how much the boat rocks it, 0 to 1. */
  step(seconds: number, flow: number, motion: number): void {
    const content = this.content + flow * seconds / 3600;
    this.content = Math.min(this.capacity, Math.max(0, content));
    this.#slosh.step(seconds);
    this.#motion = motion;
  }

  /** % as the sender gives it. */
  get level(): number {
    const level = 100 * this.content / this.capacity + this.#slosh.value * this.#motion;
    return Math.min(100, Math.max(0, level));
  }
}
