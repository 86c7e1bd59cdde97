import type { Micros } from "../../ground/time.ts";
import type { InferredBy } from "../boat.ts";
import { NOISE, SETTLING } from "./load-runs.ts";

/** A battery that gives less may be held by a charger, and that carries loads unseen. Judgement. */
const GIVES_FROM = 0.5;

/** A charger that gives way a little carries the rest: so much of the least step is a step. */
const SHARE = 0.5;

/**
 * When a battery's current (positive into the battery) last fell by as much as a load takes, and
 * when by more. A step that takes several messages is one step; it is seen as soon as it is large
 * enough, and was another load's when it grows beyond what this one takes.
 */
export class DrawnSteps {
  /** When a step of the right size came; -Infinity for never. */
  seenAt: Micros = -Infinity;
  /** When a larger one came, which hides it; -Infinity for never. */
  hiddenAt: Micros = -Infinity;
  /** Since when the battery has given current without a break; Infinity while it does not. */
  givesSince: Micros = Infinity;
  #level = NaN;
  #fallen = 0;
  #changedAt: Micros = -Infinity;

  constructor(readonly step: InferredBy["step"]) {}

  /** @param current A; NaN while not known */
  take(current: number, now: Micros): void {
    if (!(current <= -GIVES_FROM)) this.givesSince = Infinity;
    else if (this.givesSince === Infinity) this.givesSince = now;
    const fall = this.#level - current;
    this.#level = current;
    if (!(Math.abs(fall) > NOISE * this.step.from)) return;
    const goesOn = now - this.#changedAt <= SETTLING && Math.sign(fall) === Math.sign(this.#fallen);
    this.#fallen = goesOn ? this.#fallen + fall : fall;
    this.#changedAt = now;
    if (this.#fallen < SHARE * this.step.from) return;
    if (this.#fallen < this.step.to) this.seenAt = now;
    else this.hiddenAt = now;
  }
}
