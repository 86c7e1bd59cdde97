import { z } from "zod";
import { PERSON_ANSWERS } from "../../alarms/answer-words.ts";
import { lengthText, nameText, sentenceText } from "../../alarms/rules/rule-text.ts";
import { BOAT_SAYINGS } from "../../boat/boat-state.ts";
import { parseIsoTime } from "../../ground/time.ts";
import { alarmSubjectText } from "../alarm-subject-text.ts";

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
  "subject": alarmSubjectText.default("boat"),
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

const conditionSchema = z.strictObject({
  "at": timeText,
  "condition": z.enum(BOAT_SAYINGS, { error: `one of ${BOAT_SAYINGS.join(", ")}` }),
  "who": sentenceText.optional(),
}, { error: "who is aboard, such as { at: 2026-06-14T10:12:03Z, condition: left }" });

/**
 * `{ answers: [{ at, alarm, subject, answer, length, who, why }], conditions: [{ at, condition, who }] }`
 */
export const answersFileSchema = z.strictObject({
  "answers": z.array(answerSchema, { error: "a list of answers" }).default([]),
  "conditions": z.array(conditionSchema, { error: "a list of conditions of the boat" }).default([]),
});
