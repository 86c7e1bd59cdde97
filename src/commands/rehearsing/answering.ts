import type { AlarmRecord } from "../../alarms/alarm-record.ts";
import type { BoatStateRecord } from "../../boat/boat-state.ts";
import { isoTime, type Micros } from "../../ground/time.ts";
import {
  boatStateAt,
  RecordedAnswers,
  type RecordedDeed,
} from "../../rehearsal/answers/recorded-answers.ts";
import { isHidden } from "../../rehearsal/hidden-rules.ts";
import { ScheduledAnswers } from "../../rehearsal/scheduled-answers.ts";
import type { Answering } from "../../watch.ts";

/**
 * Who answers in a rehearsal, as plain data: nobody, somebody the same time after each raising, or
 * people as they once did.
 */
export type Answers = null | Micros | readonly RecordedDeed[];

/**
 * Somebody for one run; undefined where nobody answers.
 * @param begins wall time of its first instant
 * @param remembered what the run before has left
 */
export function answeringOf(
  answers: Answers,
  begins: Micros,
  remembered: readonly AlarmRecord[] = [],
): Answering | undefined {
  if (answers === null) return undefined;
  return typeof answers === "number"
    ? new ScheduledAnswers(answers, begins, remembered.filter((record) => !isHidden(record)))
    : new RecordedAnswers(answers, begins);
}

/** What people had said of the boat before a run begins; undefined where nothing is known. */
export function boatStateOf(answers: Answers, begins: Micros): BoatStateRecord | undefined {
  return answers === null || typeof answers === "number" ? undefined : boatStateAt(answers, begins);
}

/** Whether a file of answers says at any time who is aboard. */
export function saysWhoIsAboard(answers: Answers): boolean {
  return Array.isArray(answers) && answers.some((deed) => !("answer" in deed));
}

/** What a run's answers changed nothing with, as sentences. */
export function inVainOf(answering: Answering | undefined): string[] {
  if (!(answering instanceof RecordedAnswers)) return [];
  return answering.inVain.map(({ at, answer, why }) => {
    const { who, kind, tag, subject } = answer;
    return `${isoTime(at, 3)}, ${kind} of ${tag} ${subject} by ${who}: it changed nothing. ${why}`;
  });
}
