import type { Tally } from "./tally.ts";

/** Which value to take, by its place among the variants. */
export type Advice =
  /** The middle of the longest stretch of good values, which reaches from one to another. */
  | { readonly kind: "middle"; readonly at: number; readonly from: number; readonly to: number }
  /** The longest stretch is one value or two: no good value has good ones to either side. */
  | { readonly kind: "narrow"; readonly from: number; readonly to: number }
  /** No value is good; this one has the fewest mistakes. */
  | { readonly kind: "none"; readonly least: number };

/**
 * The flat middle of the good region: a value with good ones to either side forgives what the next
 * trip brings. Of two stretches of one length the first is taken, of two middles the lower.
 * @param tallies at least one
 */
export function recommend(tallies: readonly Tally[]): Advice {
  const isGood = tallies.map(({ wrong, missed }) => wrong === 0 && missed === 0);
  let best = { from: 0, to: -1 };
  for (let from = 0; from < isGood.length; from++) {
    if (!isGood[from]) continue;
    let to = from;
    while (isGood[to + 1]) to++;
    if (to - from > best.to - best.from) best = { from, to };
    from = to;
  }
  const { from, to } = best;
  if (to < from) {
    const mistakes = tallies.map(({ wrong, missed }) => wrong + missed);
    return { kind: "none", least: mistakes.indexOf(Math.min(...mistakes)) };
  }
  return to - from < 2
    ? { kind: "narrow", from, to }
    : { kind: "middle", at: (from + to) >> 1, from, to };
}
