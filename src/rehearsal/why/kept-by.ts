import type { AlarmChange } from "../../alarms/change.ts";
import type { Rule } from "../../alarms/rules/rule.ts";
import type { Micros } from "../../ground/time.ts";
import { occurrencesOf } from "../occurrences.ts";

/**
 * What kept an alarm from being raised when it was due: `it was shelved then`, by a person, or
 * `'Oil low', port, stood and covers it`.
 */
export function keptBy(
  changes: readonly AlarmChange[],
  { tag, subject }: { readonly tag: string; readonly subject: string },
  rules: readonly Rule[],
  due: Micros,
): string {
  const before = changes.filter((one) =>
    one.tag === tag && one.subject === subject && one.time <= due
  );
  const hold = before.at(-1)?.hold ?? "none";
  if (hold !== "none") return `it was ${hold.replaceAll("-", " ")} then`;
  const covering = new Map(
    rules.filter(({ covers }) => covers.includes(tag)).map((rule) => [rule.tag, rule.title]),
  );
  const stood = occurrencesOf(changes).filter(({ tag: other, raised, returned }) =>
    covering.has(other) && raised <= due && (returned ?? Infinity) >= due
  );
  const above = stood.find((one) => one.subject === subject) ?? stood[0];
  return above === undefined
    ? "it was held back then"
    : `'${covering.get(above.tag)}', ${above.subject}, stood and covers it`;
}
