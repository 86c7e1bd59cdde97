import type { Clock } from "../../ground/clock.ts";
import { type Micros, MILLISECOND } from "../../ground/time.ts";

/**
 * The two clocks cannot be read at one instant; less than this between two readings is no step. A
 * computer that keeps time by the network slews both clocks alike and steps only what is larger.
 */
const LEAST_STEP: Micros = 250 * MILLISECOND;
/** A reading that took longer was interrupted, and tells nothing. */
const LONGEST_READING: Micros = 50 * MILLISECOND;
const TRIES = 5;

/**
 * Stamps of a live source are the steady clock plus one offset a session. The kernel's stamps are
 * just that: its wall clock and its monotonic clock are slewed alike and come apart only by a step.
 * A step changes the offset; frames stamped before it may still be on their way, so the new offset
 * is taken up by the first frame whose stamp lies nearer to it.
 */
export class SessionClock {
  readonly #clock: Clock;
  #offset: Micros;
  #next: Micros;

  constructor(clock: Clock) {
    this.#clock = clock;
    this.#offset = this.#read() ?? clock.wall() - clock.steady();
    this.#next = this.#offset;
  }

  /** The stamp for something that came just now. */
  now(): Micros {
    return this.#clock.steady() + this.#offset;
  }

  /** Looks at the clocks; true while a step was seen that no frame has shown yet. */
  look(): boolean {
    const offset = this.#read();
    if (offset === undefined) return this.#next !== this.#offset;
    this.#next = Math.abs(offset - this.#offset) < LEAST_STEP ? this.#offset : offset;
    return this.#next !== this.#offset;
  }

  /** True if a stamp was made after the step that `look` has seen. */
  isAfterStep(stamp: Micros): boolean {
    const steady = this.#clock.steady();
    return Math.abs(stamp - steady - this.#next) < Math.abs(stamp - steady - this.#offset);
  }

  /** From now on stamps are made with the new offset; returns the length of the step. */
  takeStep(): Micros {
    const by = this.#next - this.#offset;
    this.#offset = this.#next;
    return by;
  }

  /** How far the wall clock lies from the steady one; undefined on a computer too busy to tell. */
  #read(): Micros | undefined {
    for (let attempt = 0; attempt < TRIES; attempt++) {
      const before = this.#clock.steady();
      const wall = this.#clock.wall();
      const after = this.#clock.steady();
      if (after - before <= LONGEST_READING) return wall - Math.round((before + after) / 2);
    }
    return undefined;
  }
}
