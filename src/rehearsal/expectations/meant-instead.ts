import type { Rule } from "../../alarms/rules/rule.ts";
import type { Boat } from "../../boat/boat.ts";

/** What a rule is about in place of this subject, after "expected"; null where it may be about it. */
export function meantInstead(
  { each, only, where }: Rule,
  subject: string,
  { subjects }: Boat,
): string | null {
  if (each === null) {
    return subject === "boat" ? null : "boat, or no subject: this rule is about the whole boat";
  }
  if (only !== null && !only.includes(subject)) {
    return `${only.join(" or ")}: this rule is about nothing else`;
  }
  const described = subjects.find(({ group, name }) => group === each && name === subject);
  const other = described &&
    Object.entries(where).find(([key, word]) => described.words[key] !== word);
  return other === undefined ? null : `one with ${other.join(": ")}, as this rule has it`;
}
