import { type AnswerAction, HAS_IT } from "./answer-token.ts";

/** What a person can do about an alarm: the kinds of answers, and "I have it". */
export const PERSON_ANSWERS = [
  "acknowledge",
  "have-it",
  "shelve",
  "unshelve",
  "reset",
  "out-of-service",
  "return-to-service",
] as const;
export type PersonAnswer = typeof PERSON_ANSWERS[number];

/** What a person says by an answer: the same on the page, in a message and behind its link. */
export const ANSWER_WORDS: Readonly<Record<AnswerAction, string>> = {
  "have-it": HAS_IT,
  "acknowledge": "I know of it",
  "shelve": "Not for an hour",
};

/** Who has answered where nobody says who they are: on a page without a sign-in, or without a name. */
export const ANSWERED_ON_PAGE = "the page";
