import { backOff } from "../../../ground/back-off.ts";
import { type Micros, MINUTE } from "../../../ground/time.ts";
import type { AnswerMessage } from "./read-messages.ts";

/** Numbers asked for at once. */
const AT_ONCE = 500;
/** An answer that does not come is asked for again after so long, then longer. */
const PATIENCE: Micros = 10 * MINUTE;
/** A gap may close by itself: what is on its way comes in a moment. */
const GRACE_TRIES = 4;

export interface Gap {
  readonly from: number;
  readonly to: number;
}

/** Asks for what is missing of one stream, one request at a time, and not again and again. */
export class GapRequests {
  #asked: (Gap & { readonly id: string }) | undefined;
  #askAgain: Micros = -Infinity;
  #tries = 0;

  /** The request to send now, if any. */
  next(missing: Gap | null, now: Micros, newId: () => string): Gap & { id: string } | undefined {
    if (missing === null) {
      this.#asked = undefined;
      this.#tries = 0;
      this.#askAgain = -Infinity;
      return undefined;
    }
    const isNew = this.#asked === undefined || missing.from > this.#asked.to ||
      missing.from < this.#asked.from;
    if (isNew) this.#tries = 0;
    else if (now < this.#askAgain) return undefined;
    this.#askAgain = now + backOff(GRACE_TRIES + this.#tries++, 1, PATIENCE);
    this.#asked = {
      id: newId(),
      from: missing.from,
      to: Math.min(missing.to, missing.from + AT_ONCE - 1),
    };
    return this.#asked;
  }

  /** Up to which number nothing will come any more; 0: that is not said. */
  goneBy(id: string, { from }: AnswerMessage): number {
    if (this.#asked?.id !== id || from === undefined || from <= this.#asked.from) return 0;
    return from - 1;
  }

  /** The boat is back: ask at once. */
  hasten(): void {
    this.#askAgain = -Infinity;
  }
}
