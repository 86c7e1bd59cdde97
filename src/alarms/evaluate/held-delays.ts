import type { Micros } from "../../ground/time.ts";
import type { TimerHeap } from "../../ground/timer-heap.ts";
import type { Compiled } from "../compile/compile.ts";
import type { HeldStep, Instance } from "../compile/instance.ts";
import { type Delay, dueOf, IDLE, stepDelay, type Wanted } from "../life-cycle/delay.ts";
import { Kleene } from "../life-cycle/kleene.ts";
import type { Condition } from "../rules/rule-parts.ts";
import { Slot } from "./timer-slots.ts";
import type { UnknownReasons } from "./unknown-reasons.ts";

/**
 * The delays of `held` steps. A held step is true once its part has been true long enough, and no
 * while the delay runs; it is unknown while its part is, unless the delay had not ended: until then
 * it is known to be untrue.
 */
export class HeldDelays {
  readonly #instances: readonly Instance[];
  readonly #program: Compiled["program"];
  /** By instance and held step. */
  readonly #delays: Delay[][];
  /** What each part last answered. */
  readonly #wanted: (Wanted | null)[][];

  constructor(
    compiled: Compiled,
    readonly reasons: UnknownReasons,
    readonly timers: TimerHeap,
    readonly firstTimer: Int32Array,
  ) {
    this.#instances = compiled.instances;
    this.#program = compiled.program;
    this.#delays = compiled.instances.map(({ held }) => held.map(() => IDLE));
    this.#wanted = compiled.instances.map(({ held }) => held.map(() => null));
  }

  adopt(i: number, earlier: HeldDelays, j: number): void {
    const { held, firstStep, endStep } = this.#instances[i];
    const from = earlier.#instances[j].firstStep;
    this.#program.adopt(firstStep, endStep, earlier.#program, from);
    held.forEach((_, h) => {
      this.#delays[i][h] = earlier.#delays[j][h];
      this.#wanted[i][h] = earlier.#wanted[j][h];
      this.#setTimer(i, h);
    });
  }

  /**
   * Its alarm was raised before anything was heard by these delays: what its watching waits for had
   * been so for long enough, and goes on to be until it is known not to be. Where it waits for
   * something not to be so nothing is presumed.
   */
  presume(i: number): void {
    const { held, rule, watchStep, suppressStep, endStep } = this.#instances[i];
    if (watchStep < 0 || rule.watchWhile === null || asksForNot(rule.watchWhile)) return;
    const end = suppressStep < 0 ? endStep : suppressStep;
    held.forEach(({ step }, h) => {
      if (step < watchStep || step >= end) return;
      this.#delays[i][h] = { kind: "frozen", left: 0, resets: Infinity };
      this.#wanted[i][h] = "lost";
    });
  }

  /** Judges the held steps of an instance, inner ones first. */
  judge(i: number, now: Micros): void {
    const { held } = this.#instances[i];
    for (let h = 0; h < held.length; h++) {
      const wanted = this.#wantedBy(held[h]);
      if (wanted !== this.#wanted[i][h]) this.#step(i, h, wanted, now);
    }
  }

  /** The delay of one held step falls due. */
  act(i: number, h: number, now: Micros): void {
    this.#step(i, h, this.#wantedBy(this.#instances[i].held[h]), now);
  }

  #wantedBy(held: HeldStep): Wanted {
    const answer = this.#program.evaluate(held.step + 1);
    if (answer !== Kleene.unknown) return answer === Kleene.yes ? "yes" : "no";
    this.reasons.gather(this.#program, held.step + 1);
    return this.reasons.isLost ? "lost" : "unknown";
  }

  #step(i: number, h: number, wanted: Wanted, now: Micros): void {
    const { step, length } = this.#instances[i].held[h];
    this.reasons.gather(this.#program, step + 1);
    const before = this.#delays[i][h];
    const delay = stepDelay(before, wanted, now, {
      length,
      from: now,
      oldAge: this.reasons.oldAge,
    });
    this.#delays[i][h] = delay;
    this.#wanted[i][h] = wanted;
    this.#program.keep(step, answerOf(delay, wanted));
    this.#setTimer(i, h);
  }

  #setTimer(i: number, h: number): void {
    const timer = this.firstTimer[i] + Slot.held + h;
    const due = dueOf(this.#delays[i][h]);
    if (due === Infinity) this.timers.clear(timer);
    else this.timers.set(timer, due);
  }
}

function asksForNot(condition: Condition): boolean {
  switch (condition.kind) {
    case "not":
      return true;
    case "all":
    case "any":
      return condition.of.some(asksForNot);
    case "held":
      return asksForNot(condition.of);
    default:
      return false;
  }
}

function answerOf(delay: Delay, wanted: Wanted): Kleene {
  if (delay.kind === "over") return Kleene.yes;
  if (delay.kind === "running" || wanted === "no") return Kleene.no;
  // Frozen with something left: it was seen untrue less than the whole length ago.
  return delay.kind === "frozen" && delay.left > 0 ? Kleene.no : Kleene.unknown;
}
