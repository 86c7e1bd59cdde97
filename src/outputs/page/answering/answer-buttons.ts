import { ANSWER_WORDS, type PersonAnswer } from "../../../alarms/answer-words.ts";
import type { AlarmStatus } from "../../../alarms/change.ts";
import { asksForAnswer } from "../alarm-words.ts";
import { type Markup, markup, NOTHING } from "../markup.ts";

interface Choices {
  /** What a person most likely wants to say. */
  readonly first: readonly PersonAnswer[];
  /** Behind "more". */
  readonly more: readonly PersonAnswer[];
}

const WORDS: Readonly<Record<PersonAnswer, string>> = {
  ...ANSWER_WORDS,
  "unshelve": "Tell me of it again",
  "reset": "Reset",
  "out-of-service": "Out of service for a day",
  "return-to-service": "Back in service",
};

/**
 * The answers that an alarm can be given as it stands.
 * @param canBeHeld false where nothing here can shelve it or take it out of service
 */
export function choicesFor(status: AlarmStatus, canBeHeld: boolean): Choices {
  const outOfService: PersonAnswer[] = canBeHeld ? ["out-of-service"] : [];
  if (status.hold === "shelved") return { first: ["unshelve"], more: outOfService };
  if (status.hold === "out-of-service") return { first: ["return-to-service"], more: [] };
  const more: PersonAnswer[] = canBeHeld ? ["shelve", "out-of-service"] : [];
  if (asksForAnswer(status)) return { first: ["have-it", "acknowledge"], more };
  if (status.state === "latched-acknowledged") return { first: ["reset"], more };
  return { first: [], more };
}

/** The form of one alarm, with a button for each answer. `id` is that of the alarm's element. */
export function answerButtons(id: string, status: AlarmStatus, canBeHeld: boolean): Markup {
  const { first, more } = choicesFor(status, canBeHeld);
  const { tag, subject, occurrence, title } = status;
  const buttons = (answers: readonly PersonAnswer[]) =>
    answers.map((answer) =>
      markup`<button id="${id}-${answer}" name="do" value="${answer}">${WORDS[answer]}<span
class="unseen">: ${title}</span></button>
`
    );
  const others = more.length === 0 ? NOTHING : markup`<details id="${id}-more">
<summary>More<span class="unseen">: ${title}</span></summary>
${buttons(more)}</details>`;
  return markup`<form method="post" action="answer">
<input type="hidden" name="token" value="">
<input type="hidden" name="tag" value="${tag}">
<input type="hidden" name="subject" value="${subject}">
<input type="hidden" name="occurrence" value="${occurrence}">
${buttons(first)}${others}
</form>`;
}
