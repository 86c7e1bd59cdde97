import type { Rule } from "../../alarms/rules/rule.ts";
import type { Place } from "../../ground/problem.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import { AlarmNames } from "../alarm-names.ts";
import type { Occurrence } from "../occurrences.ts";
import { sayDelay } from "../say-delay.ts";
import type { ExpectedAlarm, Window } from "./expectations.ts";
import { sayClock, sayOffset } from "./expected-time.ts";
import { type Miss, outsideBy, type Span } from "./verdict.ts";

/** What the sentences about a verdict need beside it. */
export interface VerdictGround {
  readonly rules: readonly Rule[];
  /** The recording's first frame and the run's last one, by the wall's clock. */
  readonly begins: Micros;
  readonly ends: Micros;
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

/** What on-delay would have brought it in time, where the delay alone is what stands in the way. */
function otherOnDelay(
  line: ExpectedAlarm,
  due: Span,
  occurrence: Occurrence,
  { rules, ends }: VerdictGround,
): string {
  const rule = rules.find(({ tag }) => tag === line.tag);
  if (rule === undefined || rule.test.kind === "not-heard") return "";
  const by = outsideBy(occurrence.raised, due);
  const stood = (occurrence.returned ?? ends) - rule.offDelay - occurrence.raised;
  const wanted = rule.onDelay - by;
  // Whole seconds, if that does not lead past the other end.
  const round = by > 0 ? Math.floor : Math.ceil;
  const whole = round(wanted / SECOND) * SECOND;
  const delay = outsideBy(occurrence.raised + whole - rule.onDelay, due) === 0 ? whole : wanted;
  if (delay < 0 || delay - rule.onDelay > stood) return "";
  const [now, other] = [sayDelay(rule.onDelay), sayDelay(delay)];
  return other === now ? "" : ` Its on-delay is ${now}; with ${other} it would have been in time.`;
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
  const rule = ground.rules.find(({ tag }) => tag === line.tag);
  const shorter = rule === undefined ? -1 : Math.floor((rule.offDelay - by) / SECOND) * SECOND;
  const help = rule === undefined || by < 0 || shorter < 0
    ? ""
    : ` Its off-delay is ${sayDelay(rule.offDelay)}; with ${
      sayDelay(shorter)
    } it would have been ` +
      `in time.`;
  return `${head}; it was over at ${say(returned)}, ${sayBy(by)}.${help}`;
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
  return `${head} ${ground.whyNot(miss, say) ?? `Nothing was heard of ${line.subject}.`}`;
}

/** Times as the person wrote the window: by the clock, or since the recording's start. */
function clockOf(window: Window, { begins }: VerdictGround): (time: Micros) => string {
  return window.from.kind === "absolute"
    ? (time) => sayClock(time, begins)
    : (time) => sayOffset(time - begins);
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
  return `${sayDelay(Math.abs(by))} too ${by < 0 ? "early" : "late"}`;
}
