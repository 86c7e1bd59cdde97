import type { AlarmStatus } from "../../../alarms/change.ts";
import { DAY, type Micros } from "../../../ground/time.ts";
import { clockWords } from "./clock-words.ts";
import { LOCK_SCREEN } from "./lock-screen.ts";

/** How the last day was, as far as anybody knows. */
export interface DayFacts {
  /** Rules that are judged, and titles of those that cannot be. */
  readonly onWatch: number;
  readonly unjudged: readonly string[];
  readonly statuses: readonly AlarmStatus[];
  /** Wall time since which this program has watched without a break. */
  readonly since: Micros;
  /** Wall time of the last word on the bus; null for none. */
  readonly heard: Micros | null;
  /** `house 13.2 V`, the most wanted first. */
  readonly values: readonly string[];
}

export interface DailyWording {
  /** `Hazel Comfort` */
  readonly boat: string;
  readonly timeZone: string;
  readonly now: Micros;
  /** When it was due, where this program was not running then. */
  readonly missed: Micros | undefined;
}

/** A bus that was last heard longer ago is not what is told of as now. */
const HEARD_FOR: Micros = DAY / 24;

/**
 * `Hazel Comfort, 08:00: all well for 24 h. House 13.2 V, shore power on, aft pump ran twice.`
 * All is well only where every rule was judged, nothing stands and nothing was.
 */
export function dailyLine(facts: DayFacts, wording: DailyWording): string {
  const { boat, timeZone, now, missed } = wording;
  const clock = (time: Micros) => clockWords(time, now, timeZone);
  const late = missed === undefined
    ? ""
    : ` Nothing was said at ${clock(missed)}: this program was not running.`;
  const head = `${boat}, ${clock(now)}: ${judgement(facts, now, clock)}.${late}`;
  const values: string[] = [];
  for (const value of facts.values) {
    if (`${head} ${[...values, value].join(", ")}.`.length > LOCK_SCREEN) break;
    values.push(value);
  }
  return values.length === 0 ? head : `${head} ${capital(values.join(", "))}.`;
}

function capital(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function judgement(
  { onWatch, unjudged, statuses, since, heard }: DayFacts,
  now: Micros,
  clock: (time: Micros) => string,
): string {
  if (onWatch + unjudged.length === 0) return "no rules are given, so nothing is judged";
  if (heard === null) return "nothing has been heard on the bus, so nothing is judged";
  const parts: string[] = [];
  if (now - heard > HEARD_FOR) parts.push(`nothing heard on the bus since ${clock(heard)}`);
  const standing = statuses.filter(({ state, priority, hold }) =>
    state !== "normal" && priority !== "caution" && hold === "none"
  );
  const held = statuses.filter(({ hold }) => hold === "shelved" || hold === "out-of-service");
  const begin = Math.max(since, now - DAY);
  const been = statuses.filter((status) =>
    status.priority !== "caution" && (status.raised ?? 0) > begin && !standing.includes(status)
  );
  if (standing.length > 0) parts.push(`${named(standing.map(titleOf), "alarm")} not over`);
  if (been.length > 0) parts.push(`${named(been.map(titleOf), "alarm")} came and went`);
  if (held.length > 0) parts.push(`${named(held.map(titleOf), "alarm")} shelved or out of service`);
  if (unjudged.length > 0) {
    parts.push(
      `${unjudged.length} of ${onWatch + unjudged.length} rules cannot be judged (${
        few(unjudged)
      })`,
    );
  }
  if (parts.length > 0) return parts.join("; ");
  return now - since >= DAY ? "all well for 24 h" : `all well since ${clock(since)}`;
}

function titleOf({ title, subject }: AlarmStatus): string {
  const lower = `${title.charAt(0).toLowerCase()}${title.slice(1)}`;
  return subject === "boat" ? lower : `${lower}, ${subject.replaceAll("-", " ")}`;
}

/** `1 alarm (low house voltage)` */
function named(titles: readonly string[], one: string): string {
  return `${titles.length} ${one}${titles.length === 1 ? "" : "s"} (${few(titles)})`;
}

/** The first, and how many more. */
function few(titles: readonly string[]): string {
  return titles.length === 1 ? titles[0] : `${titles[0]}, and ${titles.length - 1} more`;
}
