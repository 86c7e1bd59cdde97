import type { Sweep } from "./sweep.ts";
import type { Tally } from "./tally.ts";

/** Where a good value may lie, when none of those that were tried is good. */
export type Direction =
  /** Between these two: one tells too much or too early, the other too little or too late. */
  | { readonly kind: "between"; readonly most: number; readonly least: number }
  /** Beyond this end: all of them tell too little, or all too much. */
  | { readonly kind: "beyond"; readonly tells: "too-much" | "too-little"; readonly end: number }
  /** Another number does not help: what is too much and what is too little goes together. */
  | { readonly kind: "none" };

export function directionOf(
  tallies: readonly Tally[],
  { isMostFirst, isLeast }: Pick<Sweep, "isMostFirst" | "isLeast">,
): Direction {
  const places = [...tallies.keys()];
  const downwards = isMostFirst ? places : places.reverse();
  const isMore = (place: number) => tallies[place].tooMuch > 0 && tallies[place].tooLittle === 0;
  const isLess = (place: number) => tallies[place].tooLittle > 0 && tallies[place].tooMuch === 0;
  const turn = downwards.findIndex((place, i) =>
    isMore(place) && isLess(downwards[i + 1] ?? place)
  );
  if (turn >= 0) return { kind: "between", most: downwards[turn], least: downwards[turn + 1] };
  const end = downwards.every(isLess) ? downwards[0] : downwards[downwards.length - 1];
  const isEnd = downwards.every(isLess) || downwards.every(isMore);
  const mistakes = tallies.map(({ wrong, missed }) => wrong + missed);
  // Where it grows worse towards that end, it does not grow well beyond.
  const isGrowingWorse = mistakes[end] > Math.min(...mistakes);
  if (!isEnd || isGrowingWorse || isLeast && end === 0) return { kind: "none" };
  return { kind: "beyond", tells: isLess(end) ? "too-little" : "too-much", end };
}
