import { sayDuration } from "../units/duration.ts";
import type { Micros } from "../ground/time.ts";
import type { UnitCode } from "../units/codes.ts";
import { say } from "../units/say.ts";
import type { OwnersUnits } from "../units/units.ts";
import { PROOF_DUE } from "./compile/proof-due.ts";
import { RULES_REFUSED } from "./compile/rules-refused.ts";
import { TWO_SENDERS } from "./compile/two-senders.ts";
import type { Instance } from "./compile/instance.ts";
import { measuredWords, sayMeasuredLimit } from "./measured-words.ts";
import { type HoldState, isTimed } from "./life-cycle/alarm-life.ts";
import { Kleene } from "./life-cycle/kleene.ts";
import type { Transition } from "./life-cycle/life-cycle.ts";
import type { Standing } from "./not-judged.ts";
import { signalWords, valueNow } from "./signal-words.ts";

/** An alarm at one instant, as the sentences about it need it. */
export interface Instant extends Standing {
  readonly instance: Instance;
  readonly owners: OwnersUnits;
  readonly now: Micros;
  readonly hold: HoldState;
  /** The devices that send one subject, where that is what the alarm is about. */
  readonly senders: readonly string[];
  /** Why a rule cannot be judged, where that is what the alarm is about. */
  readonly unjudged: string;
}

/** What stands beside the alarm's title: `port oil pressure 11 psi at 1,800 rpm, limit 18 psi`. */
export function messageOf(instant: Instant): string {
  const { instance } = instant;
  const { test } = instance;
  const own = ownWords(instant);
  if (own !== null) return own.found;
  const name = signalWords(instance.signalName);
  switch (test.kind) {
    case "low":
    case "high":
      return `${name} ${sayValue(instant)}${along(instant)}, limit ${sayLimit(instant)}`;
    case "not-heard":
      return `${name} not heard`;
    case "bit-pattern":
    case "reads":
      return `${name} ${sayValue(instant)}`;
    case "unjudged":
      return instant.unjudged;
    case "discrepancy":
      return discrepancyWords(instant);
    case "measured":
      return `${measuredWords(instant, test)}, limit ${sayMeasuredLimit(test, instant.owners)}`;
  }
}

/**
 * Why a change came, as one sentence.
 * @param note what the person who made it gave as a reason
 */
export function whyOf(transition: Transition, instant: Instant, note: string): string {
  const { rule } = instant.instance;
  switch (transition.cause) {
    case "raised":
      return capital(`${found(instant)}${lasting(rule.onDelay, instant)}.`);
    case "returned":
      return instant.watching === Kleene.no
        ? `The rule was no longer watching${lasting(rule.offDelay, instant)}.`
        : capital(`${gone(instant)}${lasting(rule.offDelay, instant)}.`);
    case "risen":
      return `Nobody answered for ${sayDuration(rule.risesAfter ?? 0)}.`;
    case "again":
      return `It was answered ${sayDuration(rule.againAfter ?? 0)} ago and is still there.`;
    case "suppressed":
      return "Not judged now, by its own rule.";
    case "released":
      return transition.to === "unacknowledged"
        ? "It is no longer held back, and its condition is there."
        : "It is no longer held back.";
    case "shelved":
    case "out-of-service":
      return `${PERSONS_WORDS[transition.cause]}${putAside(instant)} by ${transition.by}${
        reason(note)
      }.`;
    default:
      return `${PERSONS_WORDS[transition.cause]} by ${transition.by}${reason(note)}.`;
  }
}

const PERSONS_WORDS = {
  "answered": "Answered",
  "reset": "Reset",
  "shelved": "Shelved",
  "unshelved": "Taken off the shelf",
  "out-of-service": "Taken out of service",
  "back-in-service": "Put back in service",
} as const;

/** For how long from now on: ` for 1 h`. */
function putAside({ hold, now }: Instant): string {
  return isTimed(hold) ? ` for ${sayDuration(hold.until - now)}` : "";
}

function reason(note: string): string {
  return note === "" ? "" : `: ${note}`;
}

function found(instant: Instant): string {
  const { instance } = instant;
  const { test } = instance;
  const own = ownWords(instant);
  if (own !== null) return own.found;
  const name = signalWords(instance.signalName);
  switch (test.kind) {
    case "low":
    case "high": {
      const side = test.kind === "low" ? "under" : "over";
      return `${name} ${sayValue(instant)} was ${side} its limit of ${sayLimit(instant)}` +
        along(instant);
    }
    case "reads":
      return `${name} read ${sayValue(instant)}`;
    case "bit-pattern":
      return test.signals.length === 1
        ? `${name} was ${sayValue(instant)}`
        : `${name} and the bits beside it stood as the rule says`;
    case "unjudged":
      return `it cannot be judged: ${instant.unjudged}`;
    case "discrepancy":
      return discrepancyWords(instant);
    case "measured":
      return `${measuredWords(instant, test)}; the limit is ${
        sayMeasuredLimit(test, instant.owners)
      }`;
    case "not-heard": {
      const age = instant.now - instant.table.heardAt(instance.signal);
      return `${name} was last heard ${sayDuration(age)} before`;
    }
  }
}

function gone(instant: Instant): string {
  const { instance } = instant;
  const { test } = instance;
  const own = ownWords(instant);
  if (own !== null) return own.gone;
  const name = signalWords(instance.signalName);
  switch (test.kind) {
    case "low":
    case "high":
      return `${name} ${sayValue(instant)} was back inside its limit of ${sayLimit(instant)}` +
        along(instant);
    case "reads":
      return `${name} read ${sayValue(instant)}`;
    case "bit-pattern":
      return test.signals.length === 1
        ? `${name} was ${sayValue(instant)}`
        : `${name} and the bits beside it no longer stood as the rule says`;
    case "not-heard":
      return `${name} was heard again`;
    case "unjudged":
      return "it can be judged again";
    case "discrepancy":
      return `${name} was as commanded`;
    case "measured":
      return `${measuredWords(instant, test)}, back inside its limit of ${
        sayMeasuredLimit(test, instant.owners)
      }`;
  }
}

/** The devices are told once, and the rule about them does not say how long. */
function lasting(delay: Micros, { instance }: Instant): string {
  return delay === 0 || instance.test.kind === "not-heard" ? "" : ` for ${sayDuration(delay)}`;
}

function discrepancyWords(instant: Instant): string {
  const { instance: { test, signalName }, table } = instant;
  const name = test.kind === "discrepancy" ? test.commandedName : "";
  const commanded = valueNow(table, table.find(name)) ?? "no reading";
  const actual = `${signalWords(signalName)} ${sayValue(instant)}`;
  return `${signalWords(name)} ${commanded} and ${actual} do not agree`;
}

/** Cautions that come with the program, of which what their signal reads says little; null for others. */
function ownWords(instant: Instant): { readonly found: string; readonly gone: string } | null {
  switch (instant.instance.rule.tag) {
    case TWO_SENDERS:
      return { found: twoSendersWords(instant), gone: "only one of the devices was heard again" };
    case PROOF_DUE:
      return { found: proofWords(instant), gone: "all of them have sounded" };
    case RULES_REFUSED:
      return { found: "the rules that were accepted last are in force", gone: "it was put right" };
    default:
      return null;
  }
}

function twoSendersWords({ instance, senders }: Instant): string {
  const subject = instance.signalName.split("/").slice(0, -1).join(" ");
  const who = senders.length < 2 ? "two devices" : senders.join(" and ");
  return `${subject} is sent by ${who}; nothing is judged from it`;
}

function proofWords({ instance, table }: Instant): string {
  const count = table.values[instance.signal];
  const which = count === 1 ? "1 alarm was" : `${count} alarms were`;
  return `${which} not made to sound for half a year`;
}

/** Where on its curve the limit was read: ` at 1,800 rpm`. */
function along({ instance: { test }, table, owners }: Instant): string {
  if (!("curve" in test) || test.curve === null || test.curve.along < 0) return "";
  const { along: signal, window } = test.curve;
  const value = window === null ? table.values[signal] : window.lowest;
  return Number.isNaN(value) ? "" : ` at ${say(value, table.facts[signal].unit, owners)}`;
}

function sayValue({ instance: { signal, test }, table, owners }: Instant): string {
  const value = valueNow(table, signal);
  if (value === null) return "no reading";
  if (typeof value === "string") return value.replaceAll("-", " ");
  // What reads a word and has none of its own is a bit.
  if (test.kind === "bit-pattern" || test.kind === "reads") return value === 0 ? "off" : "on";
  return say(value, table.facts[signal].unit, owners);
}

function sayLimit({ limit, instance, table, owners }: Instant): string {
  const unit: UnitCode = instance.signal < 0 ? "" : table.facts[instance.signal].unit;
  return Number.isNaN(limit) ? "not known" : say(limit, unit, owners);
}

function capital(sentence: string): string {
  return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}
