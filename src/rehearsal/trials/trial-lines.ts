import { columns } from "../columns.ts";
import { sayDelay } from "../say-delay.ts";
import { countInterval, type Interval } from "./interval.ts";
import type { FaultResult, Found, RuleResult, TrialResult } from "./trial-figures.ts";

/** What sea trials came to, as a person reads it: rules, then faults. */
export function trialLines(result: TrialResult): string[] {
  const { trips, hours, rules, faults, sound } = result;
  const named = rules.filter(({ of, wrong }) => of + wrong > 0);
  const quiet = countInterval(0).to * 100 / hours;
  return [
    `${trips} ${trips === 1 ? "trip" : "trips"}, ${hours.toFixed(1)} hours in all. ` +
    "In brackets: where the truth lies, with a confidence of 95 %.",
    "",
    "Rules: faults found, the delay of the alarm, false alarms in a hundred hours",
    ...columns([RULE_HEADS, ...named.map(ruleRow)]),
    `A rule that is not named here had nothing to find and rang never: at most ${
      quiet.toFixed(1)
    } false in 100 h.`,
    "",
    "Faults: found by any rule that should tell, and what rang falsely meanwhile",
    ...columns([
      FAULT_HEADS,
      ...faults.map(faultRow),
      ["nothing", times(sound.trips), "", "", sayWrong(sound.wrong)],
    ]),
  ];
}

const RULE_HEADS = ["", "found", "median", "worst", "false", "in 100 h"];
const FAULT_HEADS = ["", "found", "median", "worst", "false alarms"];

function ruleRow(rule: RuleResult): string[] {
  const { rate, interval } = rule.wrongRate;
  return [
    rule.tag,
    ...foundCells(rule),
    String(rule.wrong),
    `${rate.toFixed(1)} (${between(interval, (end) => end.toFixed(1))})`,
  ];
}

function faultRow(fault: FaultResult): string[] {
  return [
    fault.name,
    ...(fault.of === 0
      ? ["never drawn", "", ""]
      : fault.isNuisance
      ? [`nuisance, ${times(fault.of)}`, "", ""]
      : foundCells(fault)),
    sayWrong(fault.wrong),
  ];
}

/** `oil-pressure-low, bus-errors twice`; the most frequent first. */
function sayWrong(wrong: ReadonlyMap<string, number>): string {
  return [...wrong].sort(([a, first], [b, second]) => second - first || (a < b ? -1 : 1))
    .map(([tag, count]) => count === 1 ? tag : `${tag} ${times(count)}`).join(", ");
}

function times(count: number): string {
  return count === 1 ? "once" : count === 2 ? "twice" : `${count} times`;
}

function foundCells({ of, found, share, delay }: Found): string[] {
  if (share === null) return ["", "", ""];
  const percent = (end: number) => (100 * end).toFixed(0);
  return [
    `${found} of ${of}, ${percent(found / of)} % (${between(share, percent)})`,
    ...(delay === null
      ? ["", ""]
      : [sayDelay(tenths(delay.median)), sayDelay(tenths(delay.worst))]),
  ];
}

function between({ from, to }: Interval, say: (end: number) => string): string {
  return `${say(from)} to ${say(to)}`;
}

/** Of a second. */
function tenths(time: number): number {
  return Math.round(time / 100_000) * 100_000;
}

/** The same as data: one line a rule, then one a fault; times in seconds. */
export function trialObjects({ trips, hours, rules, faults, sound }: TrialResult): unknown[] {
  const seconds = (time: number | undefined) => time === undefined ? null : time / 1_000_000;
  const found = ({ of, found, share, delay }: Found) => ({
    of,
    found,
    "found-from": share?.from ?? null,
    "found-to": share?.to ?? null,
    "median-delay": seconds(delay?.median),
    "worst-delay": seconds(delay?.worst),
  });
  return [
    { trips, hours },
    ...rules.map((rule) => ({
      rule: rule.tag,
      ...found(rule),
      false: rule.wrong,
      "false-in-100-h": rule.wrongRate.rate,
      "false-from": rule.wrongRate.interval.from,
      "false-to": rule.wrongRate.interval.to,
    })),
    ...faults.map((fault) => ({
      fault: fault.name,
      ...found(fault),
      false: Object.fromEntries(fault.wrong),
    })),
    { fault: null, of: sound.trips, false: Object.fromEntries(sound.wrong) },
  ];
}
