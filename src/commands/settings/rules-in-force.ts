import type { Rule } from "../../alarms/rules/rule.ts";
import { sayProblems } from "../../ground/problem-words.ts";
import { replaceDocuments } from "../../store/replace-documents.ts";
import type { Store } from "../../store/store.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import { rulesOf, speakOf } from "./read-boat.ts";
import type { Terminal } from "../command-line/terminal.ts";
import type { TextFile } from "../command-line/text-file.ts";

const KIND = "accepted-rules";

export interface RulesInForce {
  readonly rules: readonly Rule[];
  /** The files as they lie there were refused: these are the rules of before. */
  readonly isRefused: boolean;
}

/** What becomes of rule files that have a mistake, while there are others to go on with. */
export const EARLIER_STAY = "the rules that were accepted last stay in force";

/**
 * The rules of these files, which are kept as the last accepted ones; where one is wrong, those that
 * were accepted before (contract §5).
 * @throws {CommandFailure} with every problem, where none were accepted before
 */
export async function rulesInForce(
  files: readonly TextFile[],
  store: Store,
  terminal: Terminal,
): Promise<RulesInForce> {
  const { rules, problems } = rulesOf(files);
  if (rules !== undefined) {
    speakOf(problems, "", terminal);
    await keepAccepted(files, store);
    return { rules, isRefused: false };
  }
  const kept = await store.documents(KIND);
  const earlier = rulesOf(filesInOrder(kept));
  if (kept.size === 0 || earlier.rules === undefined) {
    throw new CommandFailure(sayProblems(problems, "no rule of this set was used"));
  }
  terminal.error(sayProblems(problems, EARLIER_STAY));
  return { rules: earlier.rules, isRefused: true };
}

/** Keeps the texts of files without a mistake as the ones to fall back on. */
export async function keepAccepted(files: readonly TextFile[], store: Store): Promise<void> {
  const documents = replaceDocuments(KIND, await store.documents(KIND), textsInOrder(files));
  if (documents.length > 0) store.commit({ documents });
}

/** By place and name, since of two rules with one tag the later wins. */
function textsInOrder(files: readonly TextFile[]): Map<string, string> {
  return new Map(
    files.map(({ name, text }, i) => [`${String(i + 1).padStart(4, "0")} ${name}`, text]),
  );
}

function filesInOrder(kept: ReadonlyMap<string, string>): TextFile[] {
  return [...kept].sort(([one], [other]) => one < other ? -1 : 1).map(([key, text]) => {
    const name = key.slice(key.indexOf(" ") + 1);
    return { name, path: name, text };
  });
}
