import { z } from "zod";
import type { Document } from "../../../store/store.ts";

z.config({ jitless: true });

/** How far a boat was followed: the last event and the last sheet of history that are safe. */
const followed = z.object({
  epoch: z.string(),
  event: z.int().min(0),
  sheet: z.int().min(0),
});
export type Followed = z.output<typeof followed>;

const KEY = "followed";

/** It is saved together with what it counts, so that a kill repeats nothing and loses nothing. */
export function followedDocument(value: Followed): Document {
  return { kind: "fact", key: KEY, text: JSON.stringify(value) };
}

/** What makes no sense is as good as nothing: then everything is asked for again. */
export function readFollowed(facts: ReadonlyMap<string, string>): Followed {
  try {
    return followed.parse(JSON.parse(facts.get(KEY) ?? ""));
  } catch {
    return { epoch: "", event: 0, sheet: 0 };
  }
}
