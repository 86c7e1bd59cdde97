import type { Random } from "./random.ts";
import { reading } from "./sender.ts";
import { Wander } from "./wander.ts";

/** % from one reed contact of a sender to the next. */
const REED_STEP = 4.5;

/** A tank and what its sender makes of it. */
export class Tank {
  /** L. */
  content: number;
  /** L/h that run out of it besides. */
  leaking = 0;
  readonly #slosh: Wander;
  #motion = 0;

  /** `capacity` in L, `full` as a share of 1; a reed sender knows only whole steps. */
  constructor(
    random: Random,
    readonly capacity: number,
    full: number,
    readonly sender: "smooth" | "reed" = "smooth",
  ) {
    this.content = capacity * full;
    this.#slosh = new Wander(random, 1, 4);
  }

  /** `flow` in L/h, positive into the tank; `motion` is how much the boat rocks it, 0 to 1. */
  step(seconds: number, flow: number, motion: number): void {
    const content = this.content + (flow - this.leaking) * seconds / 3600;
    this.content = Math.min(this.capacity, Math.max(0, content));
    this.#slosh.step(seconds);
    this.#motion = motion;
  }

  /** % as the sender gives it. */
  get level(): number {
    const level = 100 * this.content / this.capacity + this.#slosh.value * this.#motion;
    const seen = this.sender === "reed" ? reading(level, REED_STEP) : level;
    return Math.min(100, Math.max(0, seen));
  }
}
