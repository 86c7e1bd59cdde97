import { z } from "zod";
import { PRIORITIES, type Priority } from "../../alarms/words.ts";
import { MINUTE } from "../../ground/time.ts";
import type { Person as ToldPerson } from "../../outputs/phones/telling/person.ts";
import { type Reach, reachSchema } from "./reach-settings.ts";
import { clockTime, daily } from "./schedule-settings.ts";
import { duration, list, type SecretSchema, text } from "./setting-values.ts";

z.config({ jitless: true });

/** Somebody who is told of alarms, and how to reach them. */
export interface Person extends ToldPerson {
  /** In the order in which the ways are tried. */
  readonly reach: readonly Reach[];
  /** When this person is told how the last day was: a cron text. */
  readonly dailyLine?: string;
}

/** What a person is told of who did not say. */
const USUALLY_WANTED: Priority[] = ["emergency-alarm", "alarm", "warning"];
/** What waits in quiet hours where the owner does not say: never what cannot wait. */
const USUALLY_HELD: Priority[] = ["warning", "caution"];

const PRIORITY_LIST = "a list of priorities, such as [emergency-alarm, alarm]";
const QUIET = 'hours such as { from: "22:00", to: "07:00" }';
const PATIENCE = "a time of a minute or more, such as 5 min";

const quietHours = z.strictObject({
  "from": clockTime,
  "to": clockTime,
  "holds": list(z.enum(PRIORITIES), PRIORITY_LIST).default(USUALLY_HELD),
}, { error: QUIET }).refine(({ from, to }) => from !== to, {
  path: ["to"],
  error: "a time other than that of from",
});

/** What an owner may write under `people:`. */
export function peopleSchema(secret: SecretSchema) {
  const person = z.strictObject({
    "name": text("a name"),
    "reach": z.array(reachSchema(secret), {
      error: "a list of ways, such as - post: https://push.example/boat",
    }),
    "wants": list(z.enum(PRIORITIES), PRIORITY_LIST).default(USUALLY_WANTED),
    "quiet": quietHours.optional(),
    "if-no-answer": duration.refine((length) => length >= MINUTE, { error: PATIENCE }).optional(),
    "daily-line": daily.optional(),
  }).transform((
    { "if-no-answer": ifNoAnswer, "daily-line": dailyLine, ...person },
  ): Person => ({ ...person, ifNoAnswer, dailyLine }));
  return z.array(person, { error: "a list of people" }).superRefine((people, context) => {
    people.forEach(({ name }, place) => {
      if (people.findIndex((other) => other.name === name) === place) return;
      context.addIssue({
        code: "custom",
        path: [place, "name"],
        message: "a name that nobody else in this list has",
      });
    });
  });
}
