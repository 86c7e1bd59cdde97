import type { Boat } from "../../boat/boat.ts";
import { readBoatFile } from "../../boat/boat-file.ts";
import type { Problem } from "../../ground/problem.ts";
import { mergeRules } from "../../alarms/rules/merge-rules.ts";
import { type ReadRules, readRules, type RuleFile } from "../../alarms/rules/read-rules.ts";
import type { Rule } from "../../alarms/rules/rule.ts";
import { BUILT_IN_TAGS } from "../../alarms/compile/built-in.ts";
import { unknownCovers } from "../../alarms/rules/unknown-covers.ts";
import { KnownQuantities } from "../../boat/known-quantities.ts";
import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import { isFault, sayProblems } from "../../ground/problem-words.ts";
import { ALL_ROWS } from "../../nmea2000/rows/all.ts";
import { CommandFailure } from "../command-line/exit-codes.ts";
import { RULE_PACKS } from "./rule-packs.ts";
import { readTextFile, type TextFile } from "../command-line/text-file.ts";
import type { Terminal } from "../command-line/terminal.ts";

/** What the quantities of the rows are called and measured in. */
export const KNOWN_QUANTITIES = new KnownQuantities(ALL_ROWS);

/** The boat of a file, or the boat of which nothing was said. */
export async function readBoat(
  place: string | undefined,
  folder: string,
  terminal: Terminal,
): Promise<Boat> {
  if (place === undefined) return UNKNOWN_BOAT;
  const file = await readTextFile(place, folder);
  const { boat, problems } = readBoatFile(file.name, file.text);
  speakOf(problems, "the boat file was not used", terminal);
  return boat ?? UNKNOWN_BOAT;
}

/**
 * All rules of files, a later one of the same tag in place of an earlier.
 * @throws {CommandFailure} with every problem
 */
export function acceptRules(files: readonly TextFile[], terminal: Terminal): readonly Rule[] {
  const { rules, problems } = rulesOf(files);
  speakOf(problems, "no rule of this set was used", terminal);
  return rules ?? [];
}

/**
 * One bad rule refuses the whole set.
 * @param beside tags of rules in files that are not asked about, but go with these
 */
export function rulesOf(
  files: readonly TextFile[],
  beside: readonly string[] = [],
): { rules: Rule[] | undefined; problems: Problem[] } {
  const read = files.map(readFile);
  const problems = [
    ...read.flatMap((one) => one.problems),
    ...unknownCovers(read, [...BUILT_IN_TAGS, ...beside], RULE_PACKS),
  ];
  const good = read.map((one) => one.value).filter((one): one is RuleFile => one !== undefined);
  return { rules: good.length === read.length ? mergeRules(good) : undefined, problems };
}

/** Tags of all rules in files, those of the packs that they use too. */
export function tagsIn(files: readonly TextFile[]): readonly string[] {
  return files.flatMap((file) => readFile(file).tags);
}

function readFile({ name, text }: TextFile): ReadRules {
  return readRules(name, text, KNOWN_QUANTITIES, RULE_PACKS);
}

/** @throws {CommandFailure} where anything but a notice was found */
export function speakOf(
  problems: readonly Problem[],
  outcome: string,
  terminal: Terminal,
): void {
  if (problems.length === 0) return;
  const words = sayProblems(problems, outcome);
  if (problems.some(isFault)) throw new CommandFailure(words);
  terminal.error(words);
}
