import type { Rule } from "../../alarms/rules/rule.ts";
import { readAnswers } from "../../rehearsal/answers/read-answers.ts";
import { parseDuration } from "../../units/duration.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import type { Terminal } from "../command-line/terminal.ts";
import { readTextFile } from "../command-line/text-file.ts";
import { BUILT_IN_TAGS } from "../../alarms/compile/built-in.ts";
import { speakOf } from "../settings/read-boat.ts";
import type { Answers } from "./answering.ts";

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
