import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import type { Problem } from "../../ground/problem.ts";
import type { Expectations } from "../../rehearsal/expectations/expectations.ts";
import {
  type KnownNames,
  readExpectations,
} from "../../rehearsal/expectations/read-expectations.ts";
import { KNOWN_QUANTITIES, speakOf } from "../settings/read-boat.ts";
import type { RecordingInput } from "./inputs.ts";
import { expectationPlaces } from "./names-beside.ts";
import type { Terminal } from "../command-line/terminal.ts";
import { readTextFile, shortName, type TextFile } from "../command-line/text-file.ts";

/** Expectations and the file that says them. */
export interface ExpectationFile {
  readonly name: string;
  readonly expectations: Expectations;
}

/**
 * By recording, in their order, what its file of expectations says; null where none lies beside it.
 * @throws {CommandFailure} with every problem of every file
 */
export async function expectationsBeside(
  recordings: readonly RecordingInput[],
  known: KnownNames,
  folder: string,
  terminal: Terminal,
): Promise<(ExpectationFile | null)[]> {
  const problems: Problem[] = [];
  const files = await Promise.all(recordings.map(({ path }) => fileBeside(path, folder)));
  const read = files.map((file): ExpectationFile | null => {
    if (file === null) return null;
    const one = readExpectations(file.name, file.text, known);
    problems.push(...one.problems);
    return one.value === undefined ? null : { name: file.name, expectations: one.value };
  });
  speakOf(problems, "nothing was rehearsed", terminal);
  return read;
}

/** What is wrong in a file of expectations; rules and boat are not at hand. */
export function expectationProblems({ name, text }: TextFile): Problem[] {
  return readExpectations(name, text, {
    rules: null,
    boat: UNKNOWN_BOAT,
    catalogue: KNOWN_QUANTITIES,
  }).problems;
}

async function fileBeside(path: string | undefined, folder: string): Promise<TextFile | null> {
  if (path === undefined) return null;
  for (const place of expectationPlaces(path)) {
    const info = await Deno.stat(place).catch(() => undefined);
    if (info?.isFile !== true) continue;
    const file = await readTextFile(place, folder);
    return { ...file, name: shortName(file.path, folder) };
  }
  return null;
}
