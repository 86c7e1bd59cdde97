import { z } from "zod";
import type { Problem } from "../../ground/problem.ts";
import { isFault } from "../../ground/problem-words.ts";
import { byPlace, checkWith } from "../../ground/schema-problems.ts";
import { nearestName } from "../../ground/spelling.ts";
import { parseIsoTime } from "../../ground/time.ts";
import { readYaml } from "../../ground/yaml-file.ts";
import { nameText, sentenceText } from "../../alarms/rules/rule-text.ts";
import type { RecordedAnswer } from "./recorded-answers.ts";

z.config({ jitless: true });

const A_TIME = "a time, such as 2026-06-14T10:12:03Z";

const timeText = z.string({ error: A_TIME }).transform((text, context) => {
  const time = parseIsoTime(text.trim());
  if (time !== undefined) return time;
  context.addIssue({ code: "custom", message: A_TIME });
  return z.NEVER;
});

const answerSchema = z.strictObject({
  "at": timeText,
  "alarm": nameText,
  "subject": nameText.optional(),
  "who": sentenceText.optional(),
}, {
  error: "an answer, such as { at: 2026-06-14T10:12:03Z, alarm: high-water, subject: aft }",
});

/** `{ answers: [{ at, alarm, subject, who }] }` */
export const answersFileSchema = z.strictObject({
  "answers": z.array(answerSchema, { error: "a list of answers" }),
});

/** Reads what people answered; all problems come at once. @param tags of the rules */
export function readAnswers(
  file: string,
  text: string,
  tags: readonly string[],
): { value: RecordedAnswer[] | undefined; problems: Problem[] } {
  const { document, problems: faults, wellFormed } = readYaml(file, text);
  if (!wellFormed) return { value: undefined, problems: faults };
  const { value, problems } = checkWith(answersFileSchema, document, ownerOf);
  const unknown = (value?.answers ?? []).flatMap(({ alarm }, i): Problem[] => {
    if (tags.includes(alarm)) return [];
    const nearest = nearestName(alarm, tags);
    return [{
      kind: "unknown-name",
      place: document.place(["answers", i, "alarm"], "value"),
      found: alarm,
      owner: "this set of rules",
      ...(nearest === undefined ? {} : { nearest }),
    }];
  });
  const all = [...faults, ...problems, ...unknown].sort(byPlace);
  if (value === undefined || all.some(isFault)) return { value: undefined, problems: all };
  return {
    value: value.answers.map(({ at, alarm, subject = "boat", who = "" }) => ({
      at,
      tag: alarm,
      subject,
      who: who === "" ? "somebody" : who,
    })),
    problems: all,
  };
}

function ownerOf(path: readonly PropertyKey[]): string {
  return path.length > 1 ? "an answer" : "a file of answers";
}
