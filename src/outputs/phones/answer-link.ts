/** What a person can say from a phone: seen, leave me alone for an hour, I see to it. */
export type AnswerAction = "acknowledge" | "shelve" | "have-it";

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

const WORDS: readonly (readonly [AnswerAction, string])[] = [
  ["have-it", "I have it"],
  ["acknowledge", "Seen"],
  ["shelve", "Not for an hour"],
];

/** The answers that a message about one raising offers. */
export function answerLinks(
  alarm: RaisedAlarm,
  person: string,
  addressOf: AnswerAddress,
): AnswerLink[] {
  return WORDS.map(([action, words]) => ({
    action,
    words,
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
  return { action: "have-it", words: `I have it: ${title}`, address };
}
