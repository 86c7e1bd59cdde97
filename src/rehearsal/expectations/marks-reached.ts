import type { AlarmChange } from "../../alarms/change.ts";
import type { Micros } from "../../ground/time.ts";
import { occurrencesOf } from "../occurrences.ts";
import type { Mark } from "./expectations.ts";

/**
 * When each mark was reached first within one recording; one that stood already when the recording
 * began was reached at its beginning. Marks that were not reached are left out.
 * @param hidden changes of the run's hidden rules
 */
export function marksReached(
  marks: readonly Mark[],
  hidden: readonly AlarmChange[],
  { begins, ends }: { readonly begins: Micros; readonly ends: Micros },
): Map<string, Micros> {
  const standings = occurrencesOf(hidden);
  const reached = new Map<string, Micros>();
  for (const { name, rule } of marks) {
    const first = standings.find(({ tag, raised, returned }) =>
      tag === rule.tag && raised <= ends && (returned === null || returned > begins)
    );
    if (first !== undefined) reached.set(name, Math.max(first.raised, begins));
  }
  return reached;
}
