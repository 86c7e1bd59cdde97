import type { Boat } from "../boat/boat.ts";
import type { SignalTable } from "../boat/signal-table.ts";
import type { Rule } from "./rules/rule.ts";
import { groupOfEach } from "./rules/signal-name.ts";

/** What a rule might be about, if only the boat file said it. */
export interface LeftOpen {
  /** "starboard" */
  readonly subject: string;
  /** What the boat file does not say of it: "fuel". */
  readonly key: string;
}

/**
 * Everything of which the boat file does not say what would tell whether a rule is about it: an
 * engine without `fuel`, where the rule is for diesels. The rule does not watch it.
 * @param table knows what there is
 */
export function leftOpen(
  { each, where, only }: Rule,
  table: Pick<SignalTable, "subjectsOf">,
  boat: Boat,
): LeftOpen[] {
  const asked = Object.entries(where);
  if (each === null || asked.length === 0) return [];
  const group = groupOfEach(each);
  return table.subjectsOf(group).flatMap((subject) => {
    if (only !== null && group === each && !only.includes(subject)) return [];
    const said = boat.subjects.find((one) => one.group === group && one.name === subject)?.words;
    if (asked.some(([key, word]) => (said?.[key] ?? word) !== word)) return [];
    const unsaid = asked.find(([key]) => said?.[key] === undefined);
    return unsaid === undefined ? [] : [{ subject, key: unsaid[0] }];
  });
}
