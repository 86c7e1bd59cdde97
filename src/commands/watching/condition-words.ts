import type { BoatSaying } from "../../boat/boat-state.ts";

/** For the log, since rules ask for it: `Ellen says of the boat: aboard.` */
export function conditionWords(who: string, saying: BoatSaying): string {
  return `${who.charAt(0).toUpperCase()}${who.slice(1)} says of the boat: ${saying}.`;
}
