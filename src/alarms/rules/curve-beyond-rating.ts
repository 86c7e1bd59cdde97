import type { Boat, Subject } from "../../boat/boat.ts";
import type { Place, Problem } from "../../ground/problem.ts";
import { say } from "../../units/say.ts";
import type { Rule } from "./rule.ts";
import { groupOfEach, kindOfSignal } from "./signal-name.ts";

/**
 * Notices of a limit along an engine's speed whose curve begins only above the speed that the boat
 * file gives as rated: such an engine is judged by the first point alone.
 * @param place where the rule stands
 */
export function curveBeyondRating(rule: Rule, boat: Boat, place: Place): Problem[] {
  const { test } = rule;
  if (test.kind !== "low" && test.kind !== "high" || test.setpoint.kind !== "curve") return [];
  const { along, points } = test.setpoint;
  const kind = kindOfSignal(along, rule.each);
  if (points.length < 2 || kind?.quantity !== "speed") return [];
  const begin = Math.min(...points.map(({ at }) => at.value));
  const rpm = (speed: number) => say(speed, "1/min", boat.units);
  return boat.subjects.filter((one) => one.group === kind.group && isMeant(one, rule))
    .filter(({ numbers }) => numbers["rated-speed"] < begin)
    .map(({ group, name, numbers }): Problem => ({
      kind: "notice",
      place,
      found: rule.tag,
      note: `judged by the first point of its curve alone: that begins at ${rpm(begin)}, and ` +
        `${group} ${name} is rated ${rpm(numbers["rated-speed"])}`,
    }));
}

/** Whether the rule is about a subject, as far as the subject's own words tell. */
function isMeant({ group, name, words }: Subject, { each, only, where }: Rule): boolean {
  if (each === null || groupOfEach(each) !== group) return true;
  return (only === null || only.includes(name)) &&
    Object.entries(where).every(([key, word]) => words[key] === word);
}
