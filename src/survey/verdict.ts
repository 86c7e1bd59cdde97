import { Reason } from "../boat/quality.ts";
import { type Micros, SECOND } from "../ground/time.ts";
import { sayDuration } from "../units/duration.ts";
import { FOLLOWS_SPEED, SENDER_LIMITS } from "./sender-limits.ts";
import { type SignalObservation, standsStill } from "./signal-observer.ts";

export const VERDICTS = [
  "talking",
  "not-available",
  "not-heard",
  "frozen",
  "implausible",
  "two-senders",
] as const;
export type Verdict = (typeof VERDICTS)[number];

/** As a person reads them. */
export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  "talking": "talking",
  "not-available": "sent as not available",
  "not-heard": "not heard",
  "frozen": "frozen",
  "implausible": "implausible",
  "two-senders": "two senders",
};

/** The same, short enough for a column. */
export const VERDICT_CELLS: Readonly<Record<Verdict, string>> = {
  ...VERDICT_WORDS,
  "not-available": "not available",
};

/** A verdict and its likely cause, a sentence; empty where there is nothing to say. */
export interface Judged {
  readonly verdict: Verdict;
  readonly cause: string;
}

/** Devices say so of many parts that most boats have not. */
export const NOT_AVAILABLE_ADVICE =
  "The device is talking; look at its sensor, the wire or its settings, unless that part is not fitted.";

export interface Listening {
  /** Steady time at which listening ended. */
  readonly end: Micros;
  /** How long the signal may stay unheard; Infinity: for ever. */
  readonly oldAge: Micros;
  /** From how many addresses it came when two senders said that they are this one. */
  readonly addresses: number;
}

/** What a survey thinks of a signal; the first that holds, the gravest doubt first. */
export function judge(
  observation: SignalObservation,
  { addresses, end, oldAge }: Listening,
): Judged {
  const { byReason, lastHeard, messages } = observation;
  if (byReason[Reason.twoSenders] > 0) {
    return {
      verdict: "two-senders",
      cause: addresses > 1
        ? "Two devices say they are this one: give one of them another instance, or tell them " +
          "apart by device in the boat file."
        : "Two devices claim one address by turns: one of them must take another.",
    };
  }
  if (end - lastHeard > oldAge) {
    const ago = sayDuration(end - lastHeard);
    return { verdict: "not-heard", cause: `Last heard ${ago} before the end.` };
  }
  if (byReason[Reason.notAvailable] === messages) {
    return {
      verdict: "not-available",
      cause: NOT_AVAILABLE_ADVICE,
    };
  }
  const doubt = implausible(observation);
  if (doubt !== undefined) return { verdict: "implausible", cause: doubt };
  if (isFrozen(observation)) {
    return {
      verdict: "frozen",
      cause: "Not one count in a minute while the speed changed by a fifth: " +
        "commonly a stuck sender, or a fixed value set in the device.",
    };
  }
  const causes = [someNotAvailable(observation), someDropouts(observation)];
  return { verdict: "talking", cause: causes.filter((cause) => cause !== "").join(" ") };
}

function someDropouts({ dropouts: { count, longest } }: SignalObservation): string {
  if (count === 0) return "";
  const often = count === 1 ? "for" : `${count.toLocaleString("en")} times, at most for`;
  const length = sayDuration(Math.max(SECOND, Math.round(longest / SECOND) * SECOND));
  return `Not heard in between, ${often} ${length}, while others spoke: switched off, or a loose plug ` +
    "or supply.";
}

function implausible(
  { byReason, facts, lastReason, messages, range, whileRunning }: SignalObservation,
): string | undefined {
  const mostly = (reason: number) => lastReason === reason || byReason[reason] > messages / 2;
  if (mostly(Reason.outOfRange)) {
    return "The device itself says that its sensor is out of range: " +
      "commonly an open or a shorted wire.";
  }
  if (mostly(Reason.implausible)) {
    return "No such value can be: commonly no probe, or a device that is set up wrongly.";
  }
  const { fullScale = Infinity, atFullScale, restWhileRunning = -Infinity, atRest } =
    SENDER_LIMITS[`${facts.group}/${facts.quantity}`] ??
      SENDER_LIMITS[facts.quantity] ?? {};
  if (range.lowest !== Infinity && range.lowest >= fullScale) return atFullScale;
  if (whileRunning.lowest !== Infinity && whileRunning.highest <= restWhileRunning) return atRest;
  return undefined;
}

function isFrozen(observation: SignalObservation): boolean {
  const { facts: { quantity }, value } = observation;
  // No boost is what an engine without load has, and one without a turbocharger.
  if (!FOLLOWS_SPEED.has(quantity) || quantity === "boost-pressure" && value === 0) return false;
  return standsStill(observation);
}

function someNotAvailable({ byReason, messages }: SignalObservation): string {
  const count = byReason[Reason.notAvailable];
  if (count === 0) return "";
  const [some, all] = [count, messages].map((number) => number.toLocaleString("en"));
  return `Sent as not available in ${some} of ${all} messages.`;
}
