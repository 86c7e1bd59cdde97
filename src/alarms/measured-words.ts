import { type Micros, SECOND } from "../ground/time.ts";
import { sayDuration } from "../units/duration.ts";
import { say, sayDifference } from "../units/say.ts";
import type { OwnersUnits } from "../units/units.ts";
import type { Instance, TiedMeasure } from "./compile/instance.ts";
import { figureAt } from "./measures/measure.ts";
import type { Condition } from "./rules/rule-parts.ts";
import type { LimitTest, MovedTest } from "./rules/test.ts";
import { placeOfName } from "./rules/signal-name.ts";
import { signalWords } from "./signal-words.ts";

export interface Measured {
  readonly instance: Instance;
  readonly owners: OwnersUnits;
  readonly now: Micros;
}

/** What a measure found: `port and starboard coolant temperature 12 °C apart`. */
export function measuredWords(
  { instance: { rule: { test: written }, signalName, twins }, owners, now }: Measured,
  test: TiedMeasure,
): string {
  const name = signalWords(signalName);
  const figure = figureAt(test.measure, now);
  const found = sayFigure(figure, test, owners);
  switch (written.kind) {
    case "low":
    case "high":
      if (written.setpoint.kind === "starts") return startsWords(name, written, test, owners);
      return `${name} ${found} of its usual`;
    case "deviation": {
      const both = twins === null
        ? `${name} and ${signalWords(test.otherName)}`
        : `${twins.join(" and ")} ${quantityWords(signalName)}`;
      return `${both} ${found} apart${written.usual === null ? "" : " beyond what is usual"}`;
    }
    case "rate-of-change": {
      const verb = written.side === "rise" ? "rose" : "fell";
      return `${name} ${verb} ${found} in ${sayDuration(written.within)}`;
    }
    case "count":
      if (written.usual !== null) {
        const times = Number.isNaN(figure) ? "no reading" : figure.toFixed(1);
        return `${name} began ${times} times as often as usual`;
      }
      return `${name} ${isSwitch(written.startsOf) ? "came on" : "began"} ${found} in ${
        sayDuration(written.within)
      }`;
    case "running-time": {
      const state = isSwitch(written.while) ? "on" : "as the rule says";
      const window = written.within === null ? "" : ` in the last ${sayDuration(written.within)}`;
      return `${name} ${state} for ${found}${window}`;
    }
    default:
      return `the boat lies ${found} from ${written.kind === "moved" ? placeOf(written) : ""}`;
  }
}

/** `port cranking voltage 0.9 V under that of its last starts`: on which side, whatever the rule. */
function startsWords(name: string, { kind }: LimitTest, test: TiedMeasure, owners: OwnersUnits) {
  const { figure } = test.measure;
  const side = kind === "low" === figure < 0 ? "over" : "under";
  return `${name} ${sayFigure(Math.abs(figure), test, owners)} ${side} that of its last starts`;
}

function placeOf({ from }: MovedTest): string {
  if (from === "anchor") return "where she anchored";
  return from === null ? "her mooring" : "its point";
}

export function sayMeasuredLimit(test: TiedMeasure, owners: OwnersUnits): string {
  return Number.isNaN(test.limit) ? "not known" : sayFigure(test.limit, test, owners);
}

function sayFigure(figure: number, test: TiedMeasure, owners: OwnersUnits): string {
  if (Number.isNaN(figure)) return "no reading";
  if (test.unit === "s") return sayDuration(figure * SECOND);
  if (test.unit === "1") return figure === 1 ? "once" : `${figure} times`;
  return test.isDifference
    ? sayDifference(figure, test.unit, owners)
    : say(figure, test.unit, owners);
}

function quantityWords(name: string): string {
  return placeOfName(name).quantity.replaceAll("-", " ");
}

/** Whether a state is that of something that goes on and off. */
function isSwitch(condition: Condition): boolean {
  if (condition.kind === "held") return isSwitch(condition.of);
  return condition.kind === "one-of" && condition.words.join() === "on";
}
