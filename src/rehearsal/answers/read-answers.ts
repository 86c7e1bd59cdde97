import { HAS_IT } from "../../alarms/answer-token.ts";
import type { Problem } from "../../ground/problem.ts";
import { isFault } from "../../ground/problem-words.ts";
import { byPlace, checkWith } from "../../ground/schema-problems.ts";
import { nearestName } from "../../ground/spelling.ts";
import { readYaml, type YamlFile } from "../../ground/yaml-file.ts";
import { answersFileSchema, type WrittenAnswer } from "./answers-schema.ts";
import type { RecordedAnswer, RecordedDeed } from "./recorded-answers.ts";

/**
 * Reads what people answered; all problems come at once.
 * @param tags of the rules; null where they are not known, and any tag goes
 */
export function readAnswers(
  file: string,
  text: string,
  tags: readonly string[] | null,
): { value: RecordedDeed[] | undefined; problems: Problem[] } {
  const { document, problems: faults, wellFormed } = readYaml(file, text);
  if (!wellFormed) return { value: undefined, problems: faults };
  const { value, problems } = checkWith(answersFileSchema, document, ownerOf);
  const answers = value?.answers ?? [];
  const unknown = tags === null
    ? []
    : answers.flatMap(({ alarm }, i) => unknownTag(alarm, i, tags, document));
  const recorded = answers.map((answer, i) => recordedOf(answer, i, document));
  const all = [
    ...faults,
    ...problems,
    ...unknown,
    ...recorded.flatMap((one) => "kind" in one ? [one] : []),
  ].sort(byPlace);
  if (value === undefined || all.some(isFault)) return { value: undefined, problems: all };
  const said = value.conditions.map(({ at, condition }) => ({ at, saying: condition }));
  return {
    value: [...recorded.flatMap((one) => "kind" in one ? [] : [one]), ...said],
    problems: all,
  };
}

function unknownTag(
  tag: string,
  i: number,
  tags: readonly string[],
  document: YamlFile,
): Problem[] {
  if (tags.includes(tag)) return [];
  const nearest = nearestName(tag, tags);
  return [{
    kind: "unknown-name",
    place: document.place(["answers", i, "alarm"], "value"),
    found: tag,
    owner: "this set of rules",
    ...(nearest === undefined ? {} : { nearest }),
  }];
}

/** What ends by itself says when; nothing else has a length. */
function recordedOf(
  { at, alarm: tag, subject, answer: kind, length, who, why }: WrittenAnswer,
  i: number,
  document: YamlFile,
): RecordedAnswer | Problem {
  const about = { tag, subject, who, ...(why === undefined ? {} : { why }) };
  switch (kind) {
    case "shelve":
    case "out-of-service":
      if (length !== undefined) return { at, answer: { kind, ...about, length } };
      return {
        kind: "missing",
        place: document.place(["answers", i], "value"),
        what: "length",
        owner: `the answer ${kind}`,
      };
  }
  if (length !== undefined) {
    return {
      kind: "conflict",
      place: document.place(["answers", i, "length"], "key"),
      found: `the answer ${kind} has a length, which says nothing there`,
      remedy: "leave it out, or shelve the alarm",
    };
  }
  if (kind === "have-it") return { at, answer: { kind: "acknowledge", why: HAS_IT, ...about } };
  return { at, answer: { kind, ...about } };
}

function ownerOf(path: readonly PropertyKey[]): string {
  if (path.length < 2) return "a file of answers";
  return path[0] === "conditions" ? "a condition of the boat" : "an answer";
}
