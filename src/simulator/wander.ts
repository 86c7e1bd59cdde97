import type { Random } from "./random.ts";

/**
 * A value that strays around zero and comes back: wind, waves, a governor that hunts. `spread` is
 * about how far it strays (it stops at three times that), `seconds` how long it remembers.
 */
export class Wander {
  value = 0;

  constructor(
    readonly random: Random,
    readonly spread: number,
    readonly seconds: number,
  ) {}

  step(seconds: number): number {
    const kick = this.random.noise(3 * this.spread * Math.sqrt(2 * seconds / this.seconds));
    const next = this.value * (1 - seconds / this.seconds) + kick;
    this.value = Math.min(3 * this.spread, Math.max(-3 * this.spread, next));
    return this.value;
  }
}
