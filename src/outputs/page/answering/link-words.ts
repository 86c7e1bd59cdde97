import type { AnswerAction, AnswerClaims } from "../../../alarms/answer-token.ts";
import { ANSWER_WORDS } from "../../../alarms/answer-words.ts";
import type { AlarmStatus } from "../../../alarms/change.ts";

/** The button of a link, and what is said once the boat has taken it. */
export const LINK_BUTTON = ANSWER_WORDS;
export const LINK_DONE: Readonly<Record<AnswerAction, string>> = {
  "acknowledge": "Answered. The others see that you know.",
  "have-it": "You have it. Nobody else is called now.",
  "shelve": "Shelved for an hour. Then you are told again if it still stands.",
};

/**
 * Why a link no longer has anything to do, in a sentence; undefined where it has. That somebody has
 * answered already is no fault of the reader.
 */
export function whyMoot(
  { occurrence, action }: AnswerClaims,
  status: AlarmStatus | undefined,
): string | undefined {
  if (status === undefined) return undefined;
  if (status.occurrence > occurrence) {
    return status.state.endsWith("unacknowledged")
      ? "That was an earlier time. It has risen again since, and the message about that has a " +
        "link of its own."
      : "That was an earlier time, and it is over.";
  }
  if (status.hold === "shelved") return "It is shelved already. Nothing is left to do here.";
  if (status.hold === "out-of-service") return "It is out of service. Nothing is left to do here.";
  if (action === "shelve") {
    return status.state === "normal" ? "It is over. Nothing is left to do here." : undefined;
  }
  if (status.state.endsWith("unacknowledged")) return undefined;
  return status.state === "normal"
    ? "It is over and was answered. Nothing is left to do here."
    : "It is answered already. Nothing is left to do here.";
}
