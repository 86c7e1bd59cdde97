import { z } from "zod";
import { HAS_IT } from "../../../alarms/answer-token.ts";
import { PERSON_ANSWERS } from "../../../alarms/answer-words.ts";
import type { Answer } from "../../../alarms/change.ts";
import { DAY, HOUR, type Micros } from "../../../ground/time.ts";

z.config({ jitless: true });

/** How long the page shelves an alarm. */
export const SHELVED_FOR: Micros = HOUR;
/** How long the page takes an alarm out of service; it comes back by itself. */
export const OUT_OF_SERVICE_FOR: Micros = DAY;

const form = z.object({
  do: z.enum(PERSON_ANSWERS).default("acknowledge"),
  tag: z.string().min(1).max(200),
  subject: z.string().min(1).max(200),
  occurrence: z.coerce.number().int().min(0),
});

/** The answer in a form that a browser sent, or undefined where it is none. */
export function readAnswerForm(given: unknown, who: string): Answer | undefined {
  const read = form.safeParse(given);
  if (!read.success) return undefined;
  const { do: what, ...raising } = read.data;
  const answer = { ...raising, who };
  switch (what) {
    case "have-it":
      return { kind: "acknowledge", ...answer, why: HAS_IT };
    case "shelve":
      return { kind: "shelve", ...answer, length: SHELVED_FOR };
    case "out-of-service":
      return { kind: "out-of-service", ...answer, length: OUT_OF_SERVICE_FOR };
    default:
      return { kind: what, ...answer };
  }
}
