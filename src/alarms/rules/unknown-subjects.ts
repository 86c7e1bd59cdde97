import type { Boat } from "../../boat/boat.ts";
import type { Place, Problem } from "../../ground/problem.ts";
import { nearestName } from "../../ground/spelling.ts";
import type { Rule } from "./rule.ts";
import { isAbsolute, placeOfName } from "./signal-name.ts";
import { signalsNeeded } from "./signals-needed.ts";

/**
 * Notices of whole names in a rule, such as `engine/prot/speed`, whose subject the boat file does not
 * name, although it names others of that group. What it leaves unnamed is called by its number.
 * @param place where the rule stands
 */
export function unknownSubjects(rule: Rule, boat: Boat, place: Place): Problem[] {
  const written = signalsNeeded(rule).filter(({ of, name }) => of === null && isAbsolute(name));
  return [...new Set(written.map(({ name }) => name))].flatMap((name): Problem[] => {
    const { group, subject } = placeOfName(name);
    const names = boat.subjects.filter((one) => one.group === group).map((one) => one.name);
    if (names.length === 0 || names.includes(subject) || /\d$/.test(subject)) return [];
    const nearest = nearestName(subject, names);
    const note = `about no ${group} of the boat file: "${name}"`;
    return [{
      kind: "notice",
      place,
      found: rule.tag,
      note,
      ...(nearest === undefined ? {} : { nearest }),
    }];
  });
}
