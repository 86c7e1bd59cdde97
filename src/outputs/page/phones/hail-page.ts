import { markup } from "../markup.ts";
import { documentOf } from "../page-frame.ts";
import type { TestAnswer } from "./who-was-told.ts";

/** `Kim, by mail: the server took it.` */
export function hailSentences(answers: readonly TestAnswer[]): readonly string[] {
  return answers.map(({ person, way, accepted, why }) => {
    const who = way === "" ? person : `${person}, by ${way}`;
    return accepted ? `${who}: sent and taken.` : `${who}: not taken, because ${why}.`;
  });
}

/** What became of a test message by every way to everybody. */
export function hailDocument(answers: readonly TestAnswer[], back: string): string {
  const failed = answers.filter(({ accepted }) => !accepted).length;
  const summary = answers.length === 0
    ? "There is no way to anybody in the settings, so nothing was sent."
    : failed === 0
    ? "Every way took the test. Look at each phone whether it has come."
    : `${failed} of ${answers.length} ways did not take the test.`;
  return documentOf(
    "The test",
    markup`<main class="short"><h1>The test</h1>
<p>${summary}</p>
<ul class="plain">${hailSentences(answers).map((sentence) => markup`<li>${sentence}</li>`)}</ul>
<p><a href="${back}">Back to the boat</a></p></main>`,
  );
}
