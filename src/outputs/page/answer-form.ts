import { z } from "zod";
import type { Acknowledge } from "../../alarms/change.ts";

/** Who is said to have answered, until people sign in and have names. */
export const ANSWERED_HERE = "the page";

const AnswerForm = z.object({
  tag: z.string().min(1).max(100),
  subject: z.string().min(1).max(100),
  occurrence: z.coerce.number().int().positive(),
});

/** The answer in a form that a browser sent, or undefined where it is none. */
export function readAnswer(form: unknown): Acknowledge | undefined {
  const read = AnswerForm.safeParse(form, { jitless: true });
  return read.success ? { kind: "acknowledge", ...read.data, who: ANSWERED_HERE } : undefined;
}
