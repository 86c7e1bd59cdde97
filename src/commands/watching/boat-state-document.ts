import { z } from "zod";
import { BOAT_CONDITIONS, type BoatStateRecord } from "../../boat/boat-state.ts";
import type { Document } from "../../store/store.ts";

z.config({ jitless: true });

/** Its key among the facts of the store. */
export const BOAT_STATE = "boat-state";

/** What a person has set of the boat's condition, as it is kept over a restart. */
export const boatStateSchema = z.object({
  condition: z.enum(BOAT_CONDITIONS).nullable(),
  winterised: z.boolean(),
});

export function boatStateDocument(record: BoatStateRecord): Document {
  return { kind: "fact", key: BOAT_STATE, text: JSON.stringify(record) };
}
