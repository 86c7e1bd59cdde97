/** The lines of `rule-costs.ts`, over the log of a full bus. */
import type { FullBus } from "./full-bus.ts";
import { bareLine } from "./bench-lines.ts";
import type { Line } from "./lines.ts";
import { mixedRulesLine, type RuleCounts, rulesLine, untouchedRulesLine } from "./rules.ts";

/** The number of the first line whose rules see every value; it has no rule. */
export const SEES_ALL = 8;

/** The first is the bare loop, the second has no rule: the others are compared with both. */
export function ruleLines(bus: FullBus): Line[] {
  return [
    bareLine(bus),
    ...[0, 200, 500].map((count) => counting((counts) => rulesLine(bus, count, null, counts))),
    counting((counts) => mixedRulesLine(bus, 500, counts)),
    ...[50, 500, 5000].map((count) => counting((it) => untouchedRulesLine(bus, count, it))),
    ...[0, 200, 500].map((count) => counting((it) => rulesLine(bus, count, null, it, true))),
    counting((counts) => mixedRulesLine(bus, 500, counts, true)),
  ];
}

function counting(make: (counts: RuleCounts) => Line): Line {
  const counts = { frames: 0, evaluations: 0, changes: 0 };
  return { ...make(counts), counts };
}
