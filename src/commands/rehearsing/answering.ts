import { isoTime, type Micros } from "../../ground/time.ts";
import { type RecordedAnswer, RecordedAnswers } from "../../rehearsal/answers/recorded-answers.ts";
import { ScheduledAnswers } from "../../rehearsal/scheduled-answers.ts";
import type { Answering } from "../../watch.ts";

/**
 * Who answers in a rehearsal, as plain data: nobody, somebody the same time after each raising, or
 * people as they once did.
 */
export type Answers = null | Micros | readonly RecordedAnswer[];

/**
 * Somebody for one run; undefined where nobody answers.
 * @param begins wall time of its first instant
 */
export function answeringOf(answers: Answers, begins: Micros): Answering | undefined {
  if (answers === null) return undefined;
  return typeof answers === "number"
    ? new ScheduledAnswers(answers)
    : new RecordedAnswers(answers, begins);
}

/** What a run's answers changed nothing with, as sentences. */
export function inVainOf(answering: Answering | undefined): string[] {
  if (!(answering instanceof RecordedAnswers)) return [];
  return answering.inVain.map(({ at, answer, why }) => {
    const { who, kind, tag, subject } = answer;
    return `${isoTime(at, 3)}, ${kind} of ${tag} ${subject} by ${who}: it changed nothing. ${why}`;
  });
}
