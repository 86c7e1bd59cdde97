import type { AlarmChange } from "../alarms/change.ts";
import { isRaising, moveWords } from "../alarms/move-words.ts";
import { DAY, HOUR, isoTime, type Micros, MINUTE, SECOND } from "../ground/time.ts";
import { say, sayDifference } from "../units/say.ts";
import type { OwnersUnits } from "../units/units.ts";
import { BUILT_IN_TAGS } from "../alarms/compile/built-in.ts";
import type { AlarmNames } from "./alarm-names.ts";
import { columns } from "./columns.ts";
import { sayOffset } from "./expectations/expected-time.ts";
import type { LeastRoom, RuleFigures, RunRecord } from "./run-record.ts";
import { type RuleSummary, summarise } from "./summary.ts";

export interface WordsSetup {
  readonly names: AlarmNames;
  readonly owners: OwnersUnits;
}

/** What one run brought, as a person reads it: the alarms in time order, then each rule. */
export function runWords(run: RunRecord, setup: WordsSetup): string[] {
  return [
    `${run.parts.map(({ title }) => title).join(", ")}: ${sayLength(run.ends - run.begins)} from ${
      isoTime(run.begins, 3)
    }`,
    "",
    ...alarmLines(run, setup),
    ...ruleLines(run, setup),
  ];
}

function alarmLines(run: RunRecord, { names, owners }: WordsSetup): string[] {
  const rowOf = (change: AlarmChange, move: string, doing: string) => [
    sayOffset(change.time - run.begins, 3),
    move,
    names.name(change),
    sayFinding(change, owners),
    doing,
  ];
  const rows = [
    ...run.stood.map((change) => rowOf(change, `${change.priority}: stands from before`, "")),
    ...run.changes.map((change, i) =>
      rowOf(change, sayMove(change), isRaising(change) ? run.doing[i] : "")
    ),
  ];
  return rows.length === 0 ? ["No alarms."] : columns(rows);
}

function ruleLines(run: RunRecord, { names, owners }: WordsSetup): string[] {
  const idle = run.rules.filter(({ standing }) => standing === "not-watching");
  const blind = run.rules.filter(({ standing }) => standing === "no-data");
  return [
    ...section(
      "Rules that were judged, and the least room that each had",
      judgedRows(run, { names, owners }),
    ),
    ...section("Rules that were never watching", idle.map((rule) => [tagOf(rule)])),
    ...section(
      "Rules that never had what they need",
      blind.map((rule) => [tagOf(rule), rule.reason]),
    ),
  ];
}

/** Each judged rule, those that were raised first: name, how often, how long, least room. */
export function judgedRows(run: RunRecord, { names, owners }: WordsSetup): string[][] {
  const summaries = new Map(
    summarise(run).map((one) => [`${one.tag}/${one.subject}`, one]),
  );
  const isRaised = ({ tag, subject }: RuleFigures) => summaries.has(`${tag}/${subject}`) ? 0 : 1;
  return run.rules.filter(({ standing }) => standing === "judged")
    .sort((a, b) => isRaised(a) - isRaised(b))
    .map((rule) => [
      // The owner knows a rule of his own by its tag; of what is built in he has no tag.
      BUILT_IN_TAGS.includes(rule.tag) ? names.name(rule) : tagOf(rule),
      ...sayRaisings(summaries.get(`${rule.tag}/${rule.subject}`)),
      rule.least === null ? "" : sayLeastRoom(rule.least, run.begins, owners),
    ]);
}

function section(heading: string, rows: readonly (readonly string[])[]): string[] {
  return rows.length === 0 ? [] : ["", heading, ...columns(rows)];
}

function tagOf({ tag, subject }: RuleFigures): string {
  return subject === "" ? tag : `${tag}, ${subject}`;
}

function sayRaisings(summary: RuleSummary | undefined): [string, string] {
  if (summary === undefined) return ["not raised", ""];
  const { raised, stood } = summary;
  const times = raised === 1 ? "raised once" : `raised ${raised} times`;
  const all = [...(stood ? ["stood from before"] : []), ...(raised > 0 ? [times] : [])];
  return [all.join(", "), `${sayLength(summary.inAlarm)} in all`];
}

/** `3 psi at 0:01:10: 28 psi, limit 25 psi`, or how far beyond. */
function sayLeastRoom(least: LeastRoom, begins: Micros, owners: OwnersUnits): string {
  const at = `at ${sayOffset(Math.floor((least.at - begins) / SECOND) * SECOND)}`;
  const { value, setpoint, unit, room } = least;
  if (value === null || setpoint === null) return at;
  const distance = sayDifference(Math.abs(value - setpoint), unit, owners);
  return `${distance}${room < 0 ? " beyond" : ""} ${at}: ${say(value, unit, owners)}, limit ${
    say(setpoint, unit, owners)
  }`;
}

/** `alarm: raised`, `warning: over, not yet answered`. */
export function sayMove(change: AlarmChange): string {
  const { priority, by } = change;
  return `${priority}: ${moveWords(change)}${by === "" ? "" : ` by ${by}`}`;
}

function sayFinding({ value, unit, setpoint }: AlarmChange, owners: OwnersUnits): string {
  // A bit is on or off; what is counted has a limit.
  if (setpoint === null && unit === "1" && value !== null) return value === 0 ? "off" : "on";
  const found = typeof value === "number" ? say(value, unit, owners) : value ?? "";
  return setpoint === null
    ? found
    : `${found || "no reading"}, limit ${say(setpoint, unit, owners)}`;
}

/** `29 s`, `4 min 10 s`, `3 h 20 min`, `2 d 4 h`; `under 1 s` of what is too short to round. */
export function sayLength(exact: Micros): string {
  if (exact > 0 && exact < SECOND / 2) return "under 1 s";
  const time = Math.round(exact / SECOND) * SECOND;
  const parts: [number, string][] = time >= DAY
    ? [[Math.floor(time / DAY), "d"], [Math.floor((time % DAY) / HOUR), "h"]]
    : time >= HOUR
    ? [[Math.floor(time / HOUR), "h"], [Math.floor((time % HOUR) / MINUTE), "min"]]
    : [[Math.floor(time / MINUTE), "min"], [(time % MINUTE) / SECOND, "s"]];
  const said = parts.filter(([count]) => count > 0).map(([count, unit]) => `${count} ${unit}`);
  return said.length === 0 ? "0 s" : said.join(" ");
}
