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
  readonly say: (time: Micros) => string;
  readonly owners: OwnersUnits;
}

/** Why an alarm did not come for one subject in one run, as far as can be told. */
export function whyNot({ rule, figures, probed, say, owners }: WhyGround): string {
  const { past, watched } = probed;
  if (watched.length > 0) {
    const longest = longestOf(watched);
    const lasted = longest.to - longest.from;
    const shorter = Math.floor(lasted / SECOND) * SECOND;
    const help = shorter > 0 ? `; with ${sayDelay(shorter)} it would have come` : "";
    return `${pastWords(rule)} for ${sayDelay(lasted)} at most, from ${say(longest.from)}; its ` +
      `on-delay is ${sayDelay(rule.onDelay)}${help}.`;
  }
  // Before a second sender spoke, or a signal was lost, it may have been past its limit.
  if (figures.standing === "no-data") return `It could not be judged: ${figures.reason}.`;
  if (past.length > 0) {
    const longest = longestOf(past);
    const stood = sayDelay(longest.to - longest.from);
    return `${pastWords(rule)} from ${say(longest.from)} for ${stood}, but it was not watching ` +
      `then: its watch-while did not hold.`;
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
