import type { Boat } from "../boat/boat.ts";
import { nearestName } from "../ground/spelling.ts";

/**
 * Whether a boat that names its things of a group has none of this name, and which was meant. A number,
 * alone or at the end, is what a device sends that the boat file does not name.
 */
export function unknownSubject(
  { subjects }: Boat,
  group: string | null,
  subject: string,
): { readonly found: string; readonly owner: string; readonly nearest?: string } | null {
  const named = subjects.filter((one) => one.group === group).map(({ name }) => name);
  if (subject === "" || named.length === 0 || named.includes(subject) || /\d$/.test(subject)) {
    return null;
  }
  const nearest = nearestName(subject, named);
  return { found: subject, owner: "this boat", ...(nearest === undefined ? {} : { nearest }) };
}
