import type { AnswerAction } from "./answer-token.ts";

/** What a person says by an answer: the same on the page, in a message and behind its link. */
export const ANSWER_WORDS: Readonly<Record<AnswerAction, string>> = {
  "have-it": "I have it",
  "acknowledge": "I know of it",
  "shelve": "Not for an hour",
};

/** Who has answered where nobody says who they are: on a page without a sign-in, or without a name. */
export const ANSWERED_ON_PAGE = "the page";
