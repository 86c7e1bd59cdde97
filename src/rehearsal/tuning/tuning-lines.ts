import type { Micros } from "../../ground/time.ts";
import { columns } from "../columns.ts";
import { sayDelay } from "../say-delay.ts";
import { directionOf } from "./direction.ts";
import { recommend } from "./recommend.ts";
import type { Sweep } from "./sweep.ts";
import type { Tallies } from "./tally.ts";

/** A sweep as a table and one sentence of advice. */
export function tuningLines(tallies: Tallies): string[] {
  const { heads, rows } = tuningRows(tallies);
  return [`Tried: ${tallies.sweep.text}`, ...columns([heads, ...rows]), adviceWords(tallies)];
}

/** The table itself; without recordings that say what is right only the alarms are counted. */
export function tuningRows(
  { sweep, results, judged, expected }: Tallies,
): { heads: string[]; rows: string[][] } {
  const advice = recommend(results);
  const chosen = expected > 0 && advice.kind === "middle" ? advice.at : -1;
  const isJudged = judged > 0;
  const heads = [
    "value",
    "alarms",
    ...(isJudged ? ["false", "missed", "into the window"] : []),
    "",
  ];
  const rows = sweep.variants.map(({ label, isWritten }, i) => {
    const { alarms, wrong, missed, delays } = results[i];
    const delay = delays.length === 0 ? "" : sayDelay(median(delays));
    const notes = [
      ...(i === chosen ? ["recommended"] : []),
      ...(isWritten ? ["as it is now"] : []),
    ];
    return [
      label,
      String(alarms),
      ...(isJudged ? [String(wrong), String(missed), delay] : []),
      notes.join(", "),
    ];
  });
  return { heads, rows };
}

/** What to take, and how far that can be trusted. */
export function adviceWords({ sweep, results, judged, expected, unjudged }: Tallies): string {
  if (unjudged !== null) {
    const why = unjudged === "" ? "was never watching" : `could not be judged: ${unjudged}`;
    return `Nothing is recommended: the rule was at work in no recording; it ${why}.`;
  }
  if (judged === 0) {
    return "No recording says what is right, so nothing is recommended; " +
      "--write-expectations drafts that.";
  }
  const label = (i: number) => sweep.variants[i].label;
  const namesOf = ({ from, to }: { from: number; to: number }) =>
    from === to ? label(from) : `${label(from)} and ${label(to)}`;
  const advice = recommend(results);
  if (expected === 0) {
    const clean = advice.kind === "none"
      ? "each value has false ones"
      : advice.kind === "narrow"
      ? `only at ${namesOf(advice)} none is false`
      : `from ${label(advice.from)} to ${label(advice.to)} none is false`;
    return `No recording expects this alarm, so what would be missed cannot be seen; ${clean}.`;
  }
  switch (advice.kind) {
    case "middle": {
      const { at, from, to } = advice;
      return `From ${label(from)} to ${label(to)} nothing is missed and nothing is false; ` +
        `${label(at)} lies in the middle.${furtherWords(advice, sweep)}`;
    }
    case "narrow":
      return `There is no flat middle: only at ${namesOf(advice)} nothing is missed and nothing ` +
        `is false. Unless smaller steps show more, a little more or less on the next trip and ` +
        `it is wrong.${furtherWords(advice, sweep)}`;
    case "none":
      return noneWords({ sweep, results }, advice.least);
  }
}

/** Where to look on, when no value is good. */
function noneWords({ sweep, results }: Pick<Tallies, "sweep" | "results">, least: number): string {
  const direction = directionOf(results, sweep);
  const label = (i: number) => sweep.variants[i].label;
  switch (direction.kind) {
    case "between":
      return `No value is good. At ${
        label(direction.most)
      } something comes too early or for nothing, ` +
        `at ${label(direction.least)} too late or not at all: try smaller steps between the two.`;
    case "beyond": {
      const { tells, end } = direction;
      const how = tells === "too-much" ? "too early or for nothing" : "too late or not at all";
      return `No value is good: at each something comes ${how}. Try ${
        end === 0 ? "below" : "above"
      } ` +
        `${label(end)}.`;
    }
    case "none": {
      const { wrong, missed } = results[least];
      if (results.every((one) => one.wrong === wrong && one.missed === missed)) {
        return `No value is good: each brings ${missed} missed and ${wrong} false. ` +
          "The rule needs something else than another number here.";
      }
      return `No value is good. The least bad is ${label(least)}, with ${missed} missed and ` +
        `${wrong} false; the rule needs something else than another number here.`;
    }
  }
}

/** What is good up to the end of what was tried may be good beyond. */
function furtherWords({ from, to }: { from: number; to: number }, sweep: Sweep): string {
  const { variants, isLeast } = sweep;
  const ends = [
    ...(from === 0 && !isLeast ? [`below ${variants[from].label}`] : []),
    ...(to === variants.length - 1 ? [`above ${variants[to].label}`] : []),
  ];
  return ends.length === 0 ? "" : ` It may reach further: try ${ends.join(" and ")}.`;
}

/** The lower one of two middles. */
export function median(values: readonly Micros[]): Micros {
  return values.toSorted((a, b) => a - b)[(values.length - 1) >> 1];
}
