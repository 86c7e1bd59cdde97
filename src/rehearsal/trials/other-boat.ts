import type { Boat } from "../../boat/boat.ts";
import type { TripTruth } from "./trials.ts";

/**
 * One sentence where a boat file is not about the boat of the trips: of what it does not name rules
 * find little, and that is not their fault. Null where it names all to which something happens.
 * @param truths of all trips; null: nothing went wrong
 */
export function otherBoatWords(boat: Boat, truths: readonly (TripTruth | null)[]): string | null {
  const known = new Set(["boat", ...boat.subjects.map(({ name }) => name)]);
  const befallen = truths.flatMap((truth) => truth === null ? [] : [truth.subject]);
  const strange = befallen.filter((name) => !known.has(name));
  if (strange.length === 0) return null;
  const names = [...new Set(strange)].sort();
  return "The trips are of the boat in examples/sea-trials/boat.yaml. This boat file has nothing " +
    `called ${names.join(" or ")}, and on ${strange.length} of ${truths.length} trips it is that ` +
    "to which something happens: rules may miss it for that.";
}
