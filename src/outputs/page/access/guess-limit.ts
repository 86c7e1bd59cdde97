import { type Micros, MINUTE } from "../../../ground/time.ts";

/** Wrong passphrases count for so long. */
export const REMEMBERED: Micros = 15 * MINUTE;
/** From one address: enough for a person with cold hands. */
export const MOST_FROM_ONE = 5;
/**
 * From all addresses together, for whoever has many. A stranger who uses them all up keeps the owner
 * out for as long; the links in messages need no sign-in, so that alarms can still be answered.
 */
export const MOST_FROM_ALL = 50;

export interface GuessesAllowed {
  readonly fromOne: number;
  readonly fromAll: number;
}

/**
 * Slows down whoever guesses, passphrases in the first place. A guess counts from when it is made,
 * not when judged.
 */
export class GuessLimit {
  #wrong: { readonly address: string; readonly at: Micros }[] = [];

  constructor(
    readonly allowed: GuessesAllowed = { fromOne: MOST_FROM_ONE, fromAll: MOST_FROM_ALL },
  ) {}

  /** @returns how long to wait before the next guess; 0 where this one may be judged, and counts */
  admit(address: string, now: Micros): Micros {
    this.#wrong = this.#wrong.filter(({ at }) => now - at < REMEMBERED);
    const own = this.#wrong.filter((guess) => guess.address === address);
    const wait = Math.max(
      waitUntilFewer(own, this.allowed.fromOne, now),
      waitUntilFewer(this.#wrong, this.allowed.fromAll, now),
    );
    if (wait === 0) this.#wrong.push({ address, at: now });
    return wait;
  }

  /**
   * The guess that was admitted then was right, and counts no more. Earlier wrong ones still do:
   * else whoever may only watch could guess without end between two sign-ins of their own.
   */
  wasRight(address: string, admitted: Micros): void {
    const at = this.#wrong.findIndex((one) => one.address === address && one.at === admitted);
    if (at >= 0) this.#wrong.splice(at, 1);
  }
}

function waitUntilFewer(guesses: readonly { readonly at: Micros }[], most: number, now: Micros) {
  return guesses.length < most ? 0 : guesses[guesses.length - most].at + REMEMBERED - now;
}
