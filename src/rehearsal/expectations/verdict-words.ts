import type { Rule } from "../../alarms/rules/rule.ts";
import type { Place } from "../../ground/problem.ts";
import { type Micros, MILLISECOND, SECOND } from "../../ground/time.ts";
import { AlarmNames } from "../alarm-names.ts";
import type { Occurrence } from "../occurrences.ts";
import { type ClockSetting, wallTimeOf } from "../run-time.ts";
import { sayDelay } from "../say-delay.ts";
import type { ExpectedAlarm, Window } from "./expectations.ts";
import { sayClock, sayOffset } from "./expected-time.ts";
import { type Miss, outsideBy, type Span } from "./verdict.ts";

/** What the sentences about a verdict need beside it. */
export interface VerdictGround {
  readonly rules: readonly Rule[];
  /** The recording's first frame, in run time. */
  readonly begins: Micros;
  /** Its last frame. */
  readonly ends: Micros;
  readonly clockSettings: readonly ClockSetting[];
  /** When its test was active while it was judged, in order of time. */
  readonly active: (line: ExpectedAlarm) => readonly Span[];
  /** Why an alarm did not come; undefined where nothing was heard of its subject. */
  readonly whyNot: (
    miss: Extract<Miss, { kind: "not-raised" }>,
    say: (time: Micros) => string,
  ) => string | undefined;
}

/** What does not hold, as a person can act on it; null place: nothing in the file is to blame. */
export function sayMiss(miss: Miss, ground: VerdictGround): { place: Place | null; text: string } {
  switch (miss.kind) {
    case "mark-not-reached": {
      const { mark, lines } = miss;
      const counted = lines === 0
        ? ""
        : `; ${
          lines === 1 ? "one expected alarm counts" : `${lines} expected alarms count`
        } from it`;
      const text = `The mark ${mark.name} was not reached: ${mark.words} did not happen${counted}.`;
      return { place: mark.place, text };
    }
    case "raised-outside":
      return { place: miss.line.place, text: sayRaisedOutside(miss, ground) };
    case "returned-outside":
      return { place: miss.line.place, text: sayReturnedOutside(miss, ground) };
    case "not-raised":
      return { place: miss.line.place, text: sayNotRaised(miss, ground) };
    case "forbidden": {
      const { occurrence } = miss;
      const at = sayOffset(occurrence.raised - ground.begins);
      const text = `${named(occurrence, ground)} must never come, and came at ${at}. ${
        sayWhy(occurrence)
      }`;
      return { place: miss.place, text };
    }
    case "not-expected": {
      const { occurrence } = miss;
      const at = sayOffset(occurrence.raised - ground.begins);
      return {
        place: null,
        text: `${named(occurrence, ground)} came at ${at}, and nothing expects it. ${
          sayWhy(occurrence)
        }`,
      };
    }
  }
}

type About<Kind extends Miss["kind"]> = Extract<Miss, { kind: Kind }>;

function sayRaisedOutside(
  { line, due, occurrence }: About<"raised-outside">,
  ground: VerdictGround,
): string {
  const say = clockOf(line.raised, ground);
  const by = outsideBy(occurrence.raised, due);
  return `${named(line, ground)} was due between ${say(due.from)} and ${say(due.to)} and came at ` +
    `${say(occurrence.raised)}, ${sayBy(by)}.${otherOnDelay(line, due, occurrence, ground)}`;
}

/**
 * What on-delay would have brought it in time, where the delay alone is what stands in the way. With
 * less of a delay what lasted too short before would have come too, and it might stand already.
 */
function otherOnDelay(
  line: ExpectedAlarm,
  due: Span,
  { raised }: Occurrence,
  { rules, active }: VerdictGround,
): string {
  const rule = rules.find(({ tag }) => tag === line.tag);
  if (rule === undefined || rule.test.kind === "not-heard") return "";
  const delay = otherDelay(rule.onDelay, raised, due);
  const lengths = active(line).map(({ from, to }) => ({ from, to, length: to - from }));
  // What came when a hold or another alarm ended came by that, and not by its delay.
  const own = lengths.find(({ from }) => from + rule.onDelay === raised);
  if (delay < 0 || own === undefined || own.length < delay) return "";
  const isEarlier = lengths.some(({ to, length }) =>
    to < own.from && length >= delay && length < rule.onDelay
  );
  return isEarlier ? "" : sayHelp("on-delay", rule.onDelay, delay);
}

function sayReturnedOutside(
  { line, due, occurrence }: About<"returned-outside">,
  ground: VerdictGround,
): string {
  const say = line.returned === null
    ? clockOf(line.raised, ground)
    : clockOf(line.returned, ground);
  const head = `${named(line, ground)} came in time and was due to be over between ` +
    `${say(due.from)} and ${say(due.to)}`;
  const { returned } = occurrence;
  if (returned === null) return `${head}; it still stood when the recording ended.`;
  const by = outsideBy(returned, due);
  return `${head}; it was over at ${say(returned)}, ${sayBy(by)}.${
    by < 0 ? "" : shorterOffDelay(line, due, occurrence.raised, returned, ground)
  }`;
}

/** Where it was active more than once before it was over, less of a delay would have parted that. */
function shorterOffDelay(
  line: ExpectedAlarm,
  due: Span,
  raised: Micros,
  returned: Micros,
  { rules, active }: VerdictGround,
): string {
  const rule = rules.find(({ tag }) => tag === line.tag);
  if (rule === undefined) return "";
  const delay = otherDelay(rule.offDelay, returned, due);
  const isAgain = active(line).some(({ from }) => from > raised && from < returned);
  return delay < 0 || isAgain ? "" : sayHelp("off-delay", rule.offDelay, delay);
}

/** In whole seconds, if that does not lead past the other end; negative where no delay would do. */
function otherDelay(delay: Micros, came: Micros, due: Span): Micros {
  const by = outsideBy(came, due);
  const wanted = delay - by;
  const round = by > 0 ? Math.floor : Math.ceil;
  const whole = round(wanted / SECOND) * SECOND;
  return whole >= 0 && outsideBy(came + whole - delay, due) === 0 ? whole : wanted;
}

function sayHelp(what: string, delay: Micros, other: Micros): string {
  const [is, better] = [sayDelay(delay), sayDelay(other)];
  return is === better ? "" : ` Its ${what} is ${is}; with ${better} it would have been in time.`;
}

function sayNotRaised(miss: About<"not-raised">, ground: VerdictGround): string {
  const { line, due, instead } = miss;
  const say = clockOf(line.raised, ground);
  const head = `${named(line, ground)} was due between ${say(due.from)} and ${say(due.to)} and ` +
    `did not come.`;
  if (instead !== null) {
    const at = say(instead.raised);
    return instead.subject === line.subject
      ? `${head} It came at ${at}, and another line has that already.`
      : `${head} It came at ${at} for ${instead.subject}.`;
  }
  const end = `The recording ends at ${say(ground.ends)}.`;
  if (due.from > ground.ends) return `${head} ${end}`;
  const why = ground.whyNot(miss, say) ?? `Nothing was heard of ${line.subject}.`;
  return `${head} ${why}${due.to > ground.ends ? ` ${end}` : ""}`;
}

/** Times as the person wrote the window: by the clock, or since the recording's start. */
function clockOf(
  window: Window,
  { begins, clockSettings }: VerdictGround,
): (time: Micros) => string {
  return window.from.kind === "absolute"
    ? (time) => sayClock(wallTimeOf(time, clockSettings), begins)
    : (time) =>
      // A run may have begun in the recording before this one.
      time < begins
        ? `${sayOffset(begins - time)} before this recording began`
        : sayOffset(time - begins);
}

function named(
  alarm: { readonly tag: string; readonly subject: string },
  { rules }: VerdictGround,
): string {
  return new AlarmNames(rules).quoted(alarm);
}

function sayWhy({ raising }: Occurrence): string {
  return raising.why;
}

function sayBy(by: Micros): string {
  const length = Math.abs(by);
  const much = length < MILLISECOND ? "less than 1 ms" : sayDelay(length);
  return `${much} too ${by < 0 ? "early" : "late"}`;
}
