import type { Rule } from "../../alarms/rules/rule.ts";
import type { Micros } from "../../ground/time.ts";
import { readAnswers } from "../../rehearsal/answers/read-answers.ts";
import { type RecordedAnswer, RecordedAnswers } from "../../rehearsal/answers/recorded-answers.ts";
import { ScheduledAnswers } from "../../rehearsal/scheduled-answers.ts";
import { parseDuration } from "../../units/duration.ts";
import type { Answering } from "../../watch.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import type { Terminal } from "../command-line/terminal.ts";
import { readTextFile } from "../command-line/text-file.ts";
import { BUILT_IN_TAGS } from "../../alarms/compile/built-in.ts";
import { speakOf } from "../settings/read-boat.ts";

/**
 * Who answers in a rehearsal, as plain data: nobody, somebody the same time after each raising, or
 * people as they once did.
 */
export type Answers = null | Micros | readonly RecordedAnswer[];

/** Somebody for one run; undefined where nobody answers. */
export function answeringOf(answers: Answers): Answering | undefined {
  if (answers === null) return undefined;
  return typeof answers === "number" ? new ScheduledAnswers(answers) : new RecordedAnswers(answers);
}

/**
 * `never`, `after 60 s`, or a file of recorded answers.
 * @throws {CommandFailure}
 */
export async function readAnswer(
  text: string,
  rules: readonly Rule[],
  { folder, terminal }: { readonly folder: string; readonly terminal: Terminal },
): Promise<Answers> {
  if (text === "never") return null;
  const after = /^after (.+)$/.exec(text);
  const wait = after === null ? undefined : parseDuration(after[1]);
  if (wait?.ok) return wait.value;
  if (!/\.ya?ml$/i.test(text)) {
    throw new CommandFailure(
      `--answer: found "${text}", expected never, 'after 60 s' or a file such as answers.yaml`,
    );
  }
  const file = await readTextFile(text, folder);
  const tags = [...rules.map(({ tag }) => tag), ...BUILT_IN_TAGS];
  const { value, problems } = readAnswers(file.name, file.text, tags);
  speakOf(problems, "nothing was rehearsed", terminal);
  return value ?? null;
}
