import type { Place } from "../../ground/problem.ts";
import type { Verdict } from "./verdict.ts";
import { sayMiss, type VerdictGround } from "./verdict-words.ts";

/**
 * A verdict as lines: how many of the expectations hold, then each thing that does not, at its place
 * in the file.
 */
export function verdictLines(name: string, verdict: Verdict, ground: VerdictGround): string[] {
  const { met, misses } = verdict;
  if (misses.length === 0) return [`Expectations (${name}): ${sayMet(met.length)}`];
  const count = misses.length === 1 ? "one thing does not" : `${misses.length} things do not`;
  return [
    `Expectations (${name}): ${count} hold.`,
    ...misses.map((miss) => {
      const { place, text } = sayMiss(miss, ground);
      return `  ${place === null ? name : sayPlace(place)}: ${text}`;
    }),
  ];
}

function sayMet(count: number): string {
  if (count === 0) return "they hold; nothing was to come, and nothing came.";
  return count === 1
    ? "they hold; the one alarm came as it should."
    : `they hold; ${count} alarms came as they should.`;
}

function sayPlace({ file, line, column }: Place): string {
  return `${file}:${line}:${column}`;
}
