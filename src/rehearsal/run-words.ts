import type { AlarmChange } from "../alarms/change.ts";
import type { NotWatched } from "../alarms/not-judged.ts";
import { DAY, HOUR, isoTime, type Micros, MINUTE, SECOND } from "../ground/time.ts";
import type { UnitCode } from "../units/codes.ts";
import type { Run } from "./run.ts";
import { summarise } from "./summary.ts";

export interface WordsSetup {
  /** Titles of the rules by tag. */
  readonly titles: ReadonlyMap<string, string>;
  readonly say: (value: number, unit: UnitCode) => string;
}

/** What one run brought, as a person reads it: the alarms in time order, then each rule. */
export function runWords(run: Run, { titles, say }: WordsSetup): string[] {
  const lasting = run.ends - run.begins;
  const lines = [
    `${run.titles.join(", ")}: ${sayLength(lasting)} from ${isoTime(run.begins, 3)}`,
    "",
  ];
  const raised = run.changes.filter((change) => STATE_WORDS[change.to] !== undefined);
  if (raised.length === 0) {
    lines.push("No alarms.");
  } else {
    const rows = raised.map((change) => [
      sayOffset(change.time - run.begins),
      sayMove(change),
      `${titles.get(change.tag) ?? change.tag}, ${change.subject}`,
      sayFinding(change, say),
    ]);
    lines.push(...columns(rows));
  }
  const summaries = summarise(run.changes, run.ends);
  if (summaries.length > 0) {
    lines.push("", "Rules that spoke");
    lines.push(...columns(summaries.map(({ tag, subject, raised, inAlarm }) => [
      `${tag}, ${subject}`,
      raised === 1 ? "once" : `${raised} times`,
      `${sayLength(inAlarm)} in all`,
    ])));
  }
  const notWatched = run.watch.alarms.notWatched();
  if (notWatched.length > 0) {
    lines.push("", "Rules that could not be judged at the end");
    lines.push(...columns(notWatched.map(sayNotWatched)));
  }
  return lines;
}

const STATE_WORDS: Partial<Record<AlarmChange["to"], string>> = {
  "unacknowledged": "raised",
  "acknowledged": "answered",
  "returned-unacknowledged": "over, not yet answered",
  "normal": "over",
};

function sayMove(change: AlarmChange): string {
  const { from, to, priority, by } = change;
  // A caution asks for no answer: it is there, or it is over.
  if (to === "acknowledged" && from === "normal") return `${priority}: raised`;
  const answered = by === "" ? "" : ` by ${by}`;
  return `${priority}: ${STATE_WORDS[to] ?? to}${answered}`;
}

function sayFinding(
  { value, unit, setpoint }: AlarmChange,
  say: (value: number, unit: UnitCode) => string,
): string {
  const found = typeof value === "number" ? say(value, unit) : value ?? "";
  return setpoint === null ? found : `${found}, limit ${say(setpoint, unit)}`;
}

function sayNotWatched({ tag, subject, reason }: NotWatched): string[] {
  return [subject === "" ? tag : `${tag}, ${subject}`, reason];
}

/** `0:05:10.200` since the run's start. */
function sayOffset(time: Micros): string {
  const whole = Math.floor(time / SECOND);
  const part = String(Math.floor((time % SECOND) / 1000)).padStart(3, "0");
  const two = (number: number) => String(number).padStart(2, "0");
  return `${Math.floor(whole / 3600)}:${two(Math.floor(whole / 60) % 60)}:${
    two(whole % 60)
  }.${part}`;
}

/** `29 s`, `4 min 10 s`, `3 h 20 min`, `2 d 4 h`. */
export function sayLength(exact: Micros): string {
  const time = Math.round(exact / SECOND) * SECOND;
  const parts: [number, string][] = time >= DAY
    ? [[Math.floor(time / DAY), "d"], [Math.floor((time % DAY) / HOUR), "h"]]
    : time >= HOUR
    ? [[Math.floor(time / HOUR), "h"], [Math.floor((time % HOUR) / MINUTE), "min"]]
    : [[Math.floor(time / MINUTE), "min"], [(time % MINUTE) / SECOND, "s"]];
  const said = parts.filter(([count]) => count > 0).map(([count, unit]) => `${count} ${unit}`);
  return said.length === 0 ? "0 s" : said.join(" ");
}

function columns(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0].map((_, i) => Math.max(...rows.map((row) => row[i].length)));
  return rows.map((row) =>
    `  ${row.map((cell, i) => cell.padEnd(widths[i])).join("  ")}`.trimEnd()
  );
}
