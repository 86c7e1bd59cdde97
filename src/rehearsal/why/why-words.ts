import type { Rule } from "../../alarms/rules/rule.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import { sayDelay } from "../say-delay.ts";
import { say as sayValue, sayDifference } from "../../units/say.ts";
import type { OwnersUnits } from "../../units/units.ts";
import type { LeastRoom, RuleFigures } from "../run-record.ts";
import type { Probed, Stretch } from "./probes.ts";

export interface WhyGround {
  readonly rule: Rule;
  readonly figures: RuleFigures;
  readonly probed: Probed;
  /** What kept it from being raised at a time though it was due: `'Oil low' stood and covers it`. */
  readonly keptBy: (due: Micros) => string;
  readonly say: (time: Micros) => string;
  readonly owners: OwnersUnits;
}

/** Why an alarm did not come for one subject in one run, as far as can be told. */
export function whyNot({ rule, figures, probed, keptBy, say, owners }: WhyGround): string {
  const { past, watched, unsuppressed, due } = probed;
  if (due.length > 0) {
    const { from } = due[0];
    return `It would have come at ${say(from)}, but ${keptBy(from)}.`;
  }
  if (unsuppressed.length > 0) return tooShort(rule, longestOf(unsuppressed), say);
  // Before a second sender spoke, or a signal was lost, it may have been past its limit.
  if (figures.standing === "no-data" || figures.standing === "for-nothing") {
    return `It could not be judged: ${figures.reason}.`;
  }
  if (past.length > 0) {
    const longest = longestOf(watched.length > 0 ? watched : past);
    const stood = sayDelay(longest.to - longest.from);
    const held = watched.length > 0
      ? "it was held back then: its suppressed-while held"
      : "it was not watching then: its watch-while did not hold";
    return `${pastWords(rule)} from ${say(longest.from)} for ${stood}, but ${held}.`;
  }
  if (figures.least === null) {
    return figures.standing === "not-watching"
      ? "It was never watching: its watch-while did not hold."
      : "What it waits for did not happen.";
  }
  return `The nearest it came was ${nearestWords(figures.least, owners)}, at ${
    say(figures.least.at)
  }.`;
}

/** A probe that was raised stays so while nothing is known: then its time says nothing. */
function tooShort(rule: Rule, { from, to }: Stretch, say: WhyGround["say"]): string {
  const onDelay = sayDelay(rule.onDelay);
  if (to - from >= rule.onDelay) {
    return `${pastWords(rule)} from ${say(from)}, but that was no longer known before its ` +
      `on-delay of ${onDelay} had passed.`;
  }
  const shorter = Math.floor((to - from) / SECOND) * SECOND;
  const help = shorter > 0
    ? `; with ${sayDelay(shorter)} it would have come at ${say(from + shorter)}`
    : "";
  return `${pastWords(rule)} for ${sayDelay(to - from)} at most, from ${say(from)}; its on-delay ` +
    `is ${onDelay}${help}.`;
}

/** `25 psi, 1 psi short of its limit of 24 psi` */
function nearestWords({ value, setpoint, unit, room }: LeastRoom, owners: OwnersUnits): string {
  const found = sayValue(value, unit, owners);
  if (value === null || setpoint === null) return found;
  const distance = sayDifference(Math.abs(value - setpoint), unit, owners);
  return `${found}, ${distance} ${room < 0 ? "beyond" : "short of"} its limit of ${
    sayValue(setpoint, unit, owners)
  }`;
}

function pastWords({ test }: Rule): string {
  switch (test.kind) {
    case "low":
    case "high":
      return "It was past its limit";
    case "not-heard":
      return "Its signal was not heard";
    default:
      return "What it waits for was so";
  }
}

function longestOf(stretches: readonly Stretch[]): Stretch {
  return stretches.reduce((longest, one) =>
    one.to - one.from > longest.to - longest.from ? one : longest
  );
}
