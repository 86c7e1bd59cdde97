import type { Micros } from "../../ground/time.ts";
import { type RecordedAnswer, RecordedAnswers } from "../../rehearsal/answers/recorded-answers.ts";
import { ScheduledAnswers } from "../../rehearsal/scheduled-answers.ts";
import type { Answering } from "../../watch.ts";

/**
 * Who answers in a rehearsal, as plain data: nobody, somebody the same time after each raising, or
 * people as they once did.
 */
export type Answers = null | Micros | readonly RecordedAnswer[];

/** Somebody for one run; undefined where nobody answers. */
export function answeringOf(answers: Answers): Answering | undefined {
  if (answers === null) return undefined;
  return typeof answers === "number" ? new ScheduledAnswers(answers) : new RecordedAnswers(answers);
}
