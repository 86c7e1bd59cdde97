import { z } from "zod";
import { PERSON_ANSWERS } from "../../alarms/answer-words.ts";
import { lengthText, nameText, sentenceText } from "../../alarms/rules/rule-text.ts";
import { parseIsoTime } from "../../ground/time.ts";

z.config({ jitless: true });

const A_TIME = "a time, such as 2026-06-14T10:12:03Z";

const timeText = z.string({ error: A_TIME }).transform((text, context) => {
  const time = parseIsoTime(text.trim());
  if (time !== undefined) return time;
  context.addIssue({ code: "custom", message: A_TIME });
  return z.NEVER;
});

const answerSchema = z.strictObject({
  "at": timeText,
  "alarm": nameText,
  "subject": nameText.default("boat"),
  "answer": z.enum(PERSON_ANSWERS, { error: `one of ${PERSON_ANSWERS.join(", ")}` }).default(
    "acknowledge",
  ),
  /** Only of what ends by itself. */
  "length": lengthText.optional(),
  "who": sentenceText.default("somebody"),
  "why": sentenceText.optional(),
}, {
  error: "an answer, such as { at: 2026-06-14T10:12:03Z, alarm: high-water, subject: aft }",
});

export type WrittenAnswer = z.output<typeof answerSchema>;

/** `{ answers: [{ at, alarm, subject, answer, length, who, why }] }` */
export const answersFileSchema = z.strictObject({
  "answers": z.array(answerSchema, { error: "a list of answers" }),
});
