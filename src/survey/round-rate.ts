import { roundTo } from "../units/rounding.ts";

/** From here down people read how long one takes: `one in 15 s`. */
export const SELDOM = 0.2;

/** A rate a second to two decimals; a seldom one to four, so that its time is right to the second. */
export function roundRate(rate: number): number {
  return roundTo(rate, rate < SELDOM ? 4 : 2);
}
