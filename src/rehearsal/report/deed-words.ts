import type { AlarmChange } from "../../alarms/change.ts";
import { moveWords } from "../../alarms/move-words.ts";
import type { Micros } from "../../ground/time.ts";
import { sayOffset } from "../expectations/expected-time.ts";
import type { Occurrence } from "../occurrences.ts";
import { REHEARSAL } from "../scheduled-answers.ts";

/**
 * What people did about one raising: `shelved by Ellen at 0:00:40, put back by Tom at 0:01:30`; empty
 * where nobody did anything.
 * @param begins what the times count from
 */
export function deedWords(
  { tag, subject, raising }: Occurrence,
  changes: readonly AlarmChange[],
  begins: Micros,
): string {
  return changes.slice(changes.indexOf(raising) + 1)
    .filter((one) =>
      one.tag === tag && one.subject === subject && one.occurrence === raising.occurrence &&
      one.by !== "" && one.by !== REHEARSAL
    )
    .map((one) => `${moveWords(one)} by ${one.by} at ${sayOffset(one.time - begins)}`)
    .join(", ");
}
