import type { Micros } from "../../ground/time.ts";
import { roundTo } from "../../units/rounding.ts";

/** One step of a signal's course; `at` and `lasting` since the case began. Values in its unit. */
export type Step =
  | { readonly kind: "value"; readonly at: Micros; readonly value: number }
  /** Sent, but as not available or out of range. */
  | { readonly kind: "bad"; readonly at: Micros; readonly reason: number }
  | {
    readonly kind: "ramp";
    readonly at: Micros;
    readonly to: number;
    readonly lasting: Micros;
  }
  /** Nothing is said for a while; the course goes on underneath. */
  | { readonly kind: "gap"; readonly at: Micros; readonly lasting: Micros }
  /** From then on each value lies up to this much to either side; 0: no more. */
  | { readonly kind: "noise"; readonly at: Micros; readonly size: number; readonly seed: number };

/** What a signal says at one instant; null: nothing. */
export type Saying = { readonly value: number } | { readonly reason: number } | null;

/**
 * The course of one signal as a function of time, asked for rising times. Between its steps it
 * holds the last value or follows its ramp.
 */
export class SignalCourse {
  #next = 0;
  #base: { at: Micros; from: number; to: number; lasting: Micros } | null = null;
  #reason = 0;
  #silentUntil: Micros = -Infinity;
  #noise = 0;
  #chance = chance(0);

  /** @param steps rising in `at` @param decimals to which values are sent */
  constructor(readonly steps: readonly Step[], readonly decimals: number) {}

  at(time: Micros): Saying {
    while (this.#next < this.steps.length && this.steps[this.#next].at <= time) {
      this.#begin(this.steps[this.#next++]);
    }
    if (time < this.#silentUntil) return null;
    if (this.#reason !== 0) return { reason: this.#reason };
    if (this.#base === null) return null;
    const noise = this.#noise === 0 ? 0 : (this.#chance() * 2 - 1) * this.#noise;
    return { value: roundTo(this.#valueAt(time) + noise, this.decimals) };
  }

  #begin(step: Step): void {
    switch (step.kind) {
      case "value":
        this.#reason = 0;
        this.#base = { at: step.at, from: step.value, to: step.value, lasting: 0 };
        break;
      case "ramp": {
        const from = this.#base === null ? step.to : this.#valueAt(step.at);
        this.#reason = 0;
        this.#base = { at: step.at, from, to: step.to, lasting: step.lasting };
        break;
      }
      case "bad":
        this.#reason = step.reason;
        break;
      case "gap":
        this.#silentUntil = step.at + step.lasting;
        break;
      case "noise":
        this.#noise = step.size;
        this.#chance = chance(step.seed);
    }
  }

  #valueAt(time: Micros): number {
    if (this.#base === null) return NaN;
    const { at, from, to, lasting } = this.#base;
    return time >= at + lasting ? to : from + (to - from) * (time - at) / lasting;
  }
}

/**
 * Numbers from 0 to 1, the same for the same seed: a linear congruential generator modulo 2^32 with
 * the multiplier and increment of Numerical Recipes (Press and others, 2nd edition, chapter 7.1).
 */
function chance(seed: number): () => number {
  let state = seed >>> 0;
  const step = () => state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
  // The first numbers of like seeds are alike.
  for (let i = 0; i < 4; i++) step();
  return () => step() / 0x1_0000_0000;
}
