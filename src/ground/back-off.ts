import { type Micros, MINUTE, SECOND } from "./time.ts";

/**
 * How long to wait before trying again: about 1, 2, 4, 8 … seconds, at most `longest`. The jitter
 * (half to all of it) keeps a harbour full of boats from knocking at the same instant.
 * @param attempt how many have failed, from 1
 * @param random from 0 to 1
 */
export function backOff(attempt: number, random: number, longest: Micros = 2 * MINUTE): Micros {
  const length = Math.min(longest, SECOND * 2 ** Math.min(attempt - 1, 30));
  return Math.round(length * (0.5 + 0.5 * random));
}
