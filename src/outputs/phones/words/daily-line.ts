import type { AlarmStatus } from "../../../alarms/change.ts";
import { subjectInQuestion } from "../../../alarms/compile/not-watched.ts";
import { RULES_REFUSED } from "../../../alarms/compile/rules-refused.ts";
import { type AlarmStateName, PRIORITIES } from "../../../alarms/words.ts";
import { DAY, type Micros } from "../../../ground/time.ts";
import { clockWords } from "./clock-words.ts";
import { asManyAsFit, LOCK_SCREEN } from "./lock-screen.ts";

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
  /** Wall time at which each alarm was last seen to stand, by `TAG/SUBJECT`. */
  readonly stood: ReadonlyMap<string, Micros>;
  /** Wall time at which a rule could last not be judged, or the bus was silent; null for never. */
  readonly troubled: Micros | null;
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
export const HEARD_FOR: Micros = DAY / 24;

export function keyOf({ tag, subject }: AlarmStatus): string {
  return `${tag}/${subject}`;
}

/**
 * `Hazel Comfort, 08:00: all well for 24 h. House 13.2 V, shore power on, aft pump ran twice.`
 * All is well only where every rule was judged, nothing stands and nothing was, and only since then.
 */
export function dailyLine(facts: DayFacts, wording: DailyWording): string {
  const { boat, timeZone, now, missed } = wording;
  const clock = (time: Micros) => clockWords(time, now, timeZone);
  const late = missed === undefined
    ? ""
    : ` Nothing was said at ${clock(missed)}: this program was not running.`;
  const [first, ...others] = judgement(facts, now, clock);
  const begin = `${boat}, ${clock(now)}: ${first}`;
  const more = others.length === 0 ? "" : `; ${asManyAsFit(others, `${begin}; .${late}`)}`;
  const head = `${begin}${more}.${late}`;
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

/** One clause or several, the gravest first. */
function judgement(
  { onWatch, unjudged, statuses, since, heard, stood, troubled }: DayFacts,
  now: Micros,
  clock: (time: Micros) => string,
): readonly string[] {
  if (onWatch + unjudged.length === 0) return ["no rules are given, so nothing is judged"];
  if (heard === null) return ["nothing has been heard on the bus, so nothing is judged"];
  const parts: string[] = [];
  if (now - heard > HEARD_FOR) parts.push(`nothing heard on the bus since ${clock(heard)}`);
  const alarms = statuses.filter(({ priority }) => priority !== "caution");
  const isThere = ({ state }: AlarmStatus) => PRESENT.includes(state);
  const told = alarms.filter(({ hold }) => hold === "none");
  const say = (of: readonly AlarmStatus[], how: string) => {
    if (of.length > 0) parts.push(`${named(of)} ${how}`);
  };
  say(told.filter(isThere), "not over");
  say(told.filter(({ state }) => state === "returned-unacknowledged"), "over, not yet answered");
  say(told.filter(({ state }) => state.startsWith("latched")), "over, kept until reset");
  const begin = Math.max(since, now - DAY);
  const hasStood = (status: AlarmStatus) =>
    status.occurrence > 0 && (status.raised ?? 0) > begin ||
    (stood.get(keyOf(status)) ?? 0) > begin;
  say(
    alarms.filter((one) =>
      (one.state === "normal" || one.hold !== "none") && !isThere(one) && hasStood(one)
    ),
    "came and went",
  );
  const aside = statuses.filter(({ hold }) => hold === "shelved" || hold === "out-of-service");
  say(aside.filter(isThere), "shelved or out of service, and not over");
  say(aside.filter((one) => !isThere(one)), "shelved or out of service");
  if (unjudged.length > 0) {
    parts.push(
      `${unjudged.length} of ${onWatch + unjudged.length} rules cannot be judged (${
        few(unjudged)
      })`,
    );
  }
  if (statuses.some(areRulesRefused)) parts.push("the rule files cannot be used as they are");
  if (parts.length > 0) return parts;
  const well = Math.max(since, troubled ?? since);
  return [now - well >= DAY ? "all well for 24 h" : `all well since ${clock(well)}`];
}

/** The rules that the owner wrote are not those that are judged. */
export function areRulesRefused({ tag, state }: AlarmStatus): boolean {
  return tag === RULES_REFUSED && PRESENT.includes(state);
}

const PRESENT: readonly AlarmStateName[] = ["unacknowledged", "acknowledged"];

function titleOf({ title, subject }: AlarmStatus): string {
  const lower = `${title.charAt(0).toLowerCase()}${title.slice(1)}`;
  const about = subjectInQuestion(subject);
  return about === "boat" ? lower : `${lower}, ${about.replaceAll("-", " ")}`;
}

/** `1 alarm and 2 warnings (low house voltage, and 2 more)` */
function named(statuses: readonly AlarmStatus[]): string {
  const counts = PRIORITIES.map((priority) => {
    const count = statuses.filter((one) => one.priority === priority).length;
    return count === 0 ? "" : `${count} ${priority.replace("-", " ")}${count === 1 ? "" : "s"}`;
  });
  const gravestFirst = statuses.toSorted((one, other) =>
    PRIORITIES.indexOf(one.priority) - PRIORITIES.indexOf(other.priority)
  );
  return `${counts.filter((count) => count !== "").join(" and ")} (${
    few(gravestFirst.map(titleOf))
  })`;
}

/** The first, and how many more. */
function few(titles: readonly string[]): string {
  return titles.length === 1 ? titles[0] : `${titles[0]}, and ${titles.length - 1} more`;
}
