import { basename } from "node:path";
import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import type { Problem } from "../../ground/problem.ts";
import { readCase } from "../../rehearsal/cases/read-case.ts";
import type { SyntheticCase } from "../../rehearsal/cases/synthetic-case.ts";
import type { KnownNames } from "../../rehearsal/expectations/read-expectations.ts";
import { KNOWN_QUANTITIES, speakOf } from "../settings/read-boat.ts";
import type { Terminal } from "../command-line/terminal.ts";
import { readTextFile, type TextFile } from "../command-line/text-file.ts";

/** A synthetic case and the file that says it. */
export interface CaseFile {
  /** As the person would say it. */
  readonly name: string;
  readonly title: string;
  readonly synthetic: SyntheticCase;
}

/** @throws {CommandFailure} with every problem of every file */
export async function readCases(
  places: readonly string[],
  known: KnownNames,
  folder: string,
  terminal: Terminal,
): Promise<CaseFile[]> {
  const problems: Problem[] = [];
  const files = await Promise.all(places.map((place) => readTextFile(place, folder)));
  const cases = files.flatMap(({ name, path, text }): CaseFile[] => {
    const read = readCase(name, text, known);
    problems.push(...read.problems);
    return read.value === undefined ? [] : [{ name, title: basename(path), synthetic: read.value }];
  });
  speakOf(problems, "nothing was rehearsed", terminal);
  return cases;
}

/** What is wrong in a synthetic case; rules and boat are not at hand. */
export function caseProblems({ name, text }: TextFile): Problem[] {
  return readCase(name, text, { rules: null, boat: UNKNOWN_BOAT, catalogue: KNOWN_QUANTITIES })
    .problems;
}
