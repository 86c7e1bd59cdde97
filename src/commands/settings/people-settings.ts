import { z } from "zod";
import { PRIORITIES, type Priority } from "../../alarms/words.ts";
import { type Reach, reachSchema } from "./reach-settings.ts";
import { list, type SecretSchema, text } from "./setting-values.ts";

z.config({ jitless: true });

/** Somebody who is told of alarms. */
export interface Person {
  readonly name: string;
  /** Priorities of which this person is told. */
  readonly wants: readonly Priority[];
  readonly reach: readonly Reach[];
}

/** What a person is told of who did not say. */
const USUALLY_WANTED: Priority[] = ["emergency-alarm", "alarm", "warning"];

/** What an owner may write under `people:`. */
export function peopleSchema(secret: SecretSchema) {
  const person = z.strictObject({
    "name": text("a name"),
    "reach": z.array(reachSchema(secret), {
      error: "a list of ways, such as - post: https://push.example/boat",
    }),
    "wants": list(z.enum(PRIORITIES), "a list of priorities, such as [emergency-alarm, alarm]")
      .default(USUALLY_WANTED),
  });
  return z.array(person, { error: "a list of people" });
}
