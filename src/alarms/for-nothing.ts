import type { Boat } from "../boat/boat.ts";
import type { SignalTable } from "../boat/signal-table.ts";
import type { Rule } from "./rules/rule.ts";
import { groupOfEach } from "./rules/signal-name.ts";

/**
 * Whether the boat file says of everything that a rule could be about that it is something else: a
 * rule about petrol engines where both are diesels. A pack has many of these, and they are no fault;
 * where the boat file leaves it open of only one, the rule may be meant for that.
 */
export function isForNothing({ each, where }: Rule, table: SignalTable, boat: Boat): boolean {
  if (each === null) return false;
  const group = groupOfEach(each);
  const subjects = table.subjectsOf(group);
  return subjects.length > 0 && subjects.every((name) => {
    const described = boat.subjects.find((one) => one.group === group && one.name === name);
    return Object.entries(where).some(([key, word]) => {
      const said = described?.words[key];
      return said !== undefined && said !== word;
    });
  });
}
