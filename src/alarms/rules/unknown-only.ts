import type { Boat } from "../../boat/boat.ts";
import type { Place, Problem } from "../../ground/problem.ts";
import { nearestName } from "../../ground/spelling.ts";
import type { Rule } from "./rule.ts";

/**
 * Notices of a rule that is `only` for what the boat file does not name, although it names others of
 * that group. What it leaves unnamed is called by its number.
 * @param place where the rule stands
 */
export function unknownOnly({ tag, each, only }: Rule, boat: Boat, place: Place): Problem[] {
  const names = boat.subjects.filter(({ group }) => group === each).map(({ name }) => name);
  if (only === null || names.length === 0) return [];
  return only.filter((name) => !names.includes(name) && !/^\d+$/.test(name)).map(
    (name): Problem => {
      const nearest = nearestName(name, names);
      return {
        kind: "notice",
        place,
        found: tag,
        note: `for no ${each} of the boat file: only "${name}"`,
        ...(nearest === undefined ? {} : { nearest }),
      };
    },
  );
}
