import type { AnswerAction } from "../../alarms/answer-token.ts";
import type { Priority } from "../../alarms/words.ts";
import { ANSWER_WORDS } from "../../alarms/answer-words.ts";

/** One raising of one alarm. */
export interface RaisedAlarm {
  readonly tag: string;
  readonly subject: string;
  readonly occurrence: number;
}

/** The address under which one person answers one raising. */
export type AnswerAddress = (alarm: RaisedAlarm, action: AnswerAction, person: string) => string;

/** An answer that a message offers. */
export interface AnswerLink {
  readonly action: AnswerAction;
  /** `I have it` */
  readonly words: string;
  readonly address: string;
}

/** What a person most likely wants to say goes first. */
const ORDER: readonly AnswerAction[] = ["have-it", "acknowledge", "shelve"];

/** The answers that a message about one raising offers. */
export function answerLinks(
  alarm: RaisedAlarm,
  priority: Priority,
  person: string,
  addressOf: AnswerAddress,
): AnswerLink[] {
  // From afar an emergency is never put aside.
  const actions = ORDER.filter((action) => action !== "shelve" || priority !== "emergency-alarm");
  return actions.map((action) => ({
    action,
    words: ANSWER_WORDS[action],
    address: addressOf(alarm, action, person),
  }));
}

/** The one answer to one of several alarms, with its title: `I have it: low oil pressure, port`. */
export function haveItLink(
  alarm: RaisedAlarm,
  title: string,
  person: string,
  addressOf: AnswerAddress,
): AnswerLink {
  const address = addressOf(alarm, "have-it", person);
  return { action: "have-it", words: `${ANSWER_WORDS["have-it"]}: ${title}`, address };
}
