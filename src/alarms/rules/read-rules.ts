import { byPlace, checkWith } from "../../ground/schema-problems.ts";
import type { Place, Problem } from "../../ground/problem.ts";
import { isFault } from "../../ground/problem-words.ts";
import { readYaml, type WrittenFile } from "../../ground/yaml-file.ts";
import { ruleProblems } from "./check-rule.ts";
import { MergedFile, type Merging } from "./merged-file.ts";
import { neverRaised } from "./never-raised.ts";
import { misspelledTags } from "./misspelled-tags.ts";
import { NO_PACKS, type Packs, readPacks } from "./packs.ts";
import { type Rule, USUAL_MANNER } from "./rule.ts";
import type { QuantityCatalogue } from "./signal-check.ts";
import { type RuleEntry, ruleFileSchema, TESTS } from "./rule-schema.ts";
import { soundEntry } from "./sound-entry.ts";

/** What one rule file says. */
export interface RuleFile {
  readonly rules: readonly Rule[];
  /** Tags with `watch: no`: such a rule of an earlier file is dropped. */
  readonly dropped: readonly string[];
}

/** A tag as it is written in a `covers`. */
export interface CoveredTag {
  readonly tag: string;
  readonly place: Place;
}

/** What came of reading one rule file. */
export interface ReadRules {
  readonly value: RuleFile | undefined;
  readonly problems: Problem[];
  /** Of all its rules, those of its packs and what it drops too, whether or not they are sound. */
  readonly tags: readonly string[];
  /** What it covers itself; not what its packs cover. */
  readonly covered: readonly CoveredTag[];
}

/**
 * Reads one rule file with the packs that it uses. All problems come at once; where there is any but
 * notices, `value` is undefined, since one bad rule refuses the whole set.
 */
export function readRules(
  file: string,
  text: string,
  catalogue: QuantityCatalogue,
  packs: Packs = NO_PACKS,
): ReadRules {
  const { document: written, problems: faults, wellFormed } = readYaml(file, text);
  if (!wellFormed) return { value: undefined, problems: faults, tags: [], covered: [] };
  if (written.value === null || written.value === undefined) {
    return { value: { rules: [], dropped: [] }, problems: [], tags: [], covered: [] };
  }
  const used = readPacks(written, packs);
  const document = used.documents.length === 0
    ? written
    : new MergedFile(written, used.documents, MERGING);
  const checked = checkWith(ruleFileSchema, document, ownerOf);
  const misspelled = misspelledTags(written, used.documents);
  const isFaulty = faults.length + used.problems.length + checked.problems.length > 0;
  const entries = checked.value === undefined
    ? soundEntries(document)
    : [...(checked.value.alarms ?? []).entries()];
  const { rules, dropped, problems } = rulesOf(entries, document, catalogue);
  const names = { tags: entries.map(([, { tag }]) => tag), covered: coveredTags(written) };
  if (isFaulty) {
    // What is missing in a rule of a pack that was not found stands in that pack.
    const schema = used.problems.length > 0
      ? checked.problems.filter(isOfWhatIsThere)
      : checked.problems;
    const own = [...faults, ...misspelled, ...schema, ...problems.filter(isOfWhatIsThere)];
    return {
      value: undefined,
      problems: [...used.problems, ...own.sort(byPlace)],
      ...names,
    };
  }
  const all = [...misspelled, ...problems].sort(byPlace);
  const value = all.some(isFault) ? undefined : { rules, dropped };
  return { value, problems: all, ...names };
}

/** What is missing may stand in a pack that was not found, or under a misspelled key. */
function isOfWhatIsThere({ kind }: Problem): boolean {
  return kind !== "missing" && kind !== "notice";
}

/** The entries of a faulty file, or what is sound of each, with their places in the list. */
function soundEntries({ value }: WrittenFile): [number, RuleEntry][] {
  const list = typeof value === "object" && value !== null && "alarms" in value ? value.alarms : [];
  if (!Array.isArray(list)) return [];
  return list.flatMap((written: unknown, i): [number, RuleEntry][] => {
    const entry = soundEntry(written);
    return entry === undefined ? [] : [[i, entry]];
  });
}

function coveredTags(written: WrittenFile): CoveredTag[] {
  return soundEntries(written).flatMap(([i, { covers = [] }]) =>
    covers.map((tag, at) => ({ tag, place: written.place(["alarms", i, "covers", at], "value") }))
  );
}

/** @param entries with their places in the list */
function rulesOf(
  entries: readonly [number, RuleEntry][],
  document: WrittenFile,
  catalogue: QuantityCatalogue,
): RuleFile & { problems: Problem[] } {
  const problems = repeatedTags(entries, document);
  const rules: Rule[] = [];
  const dropped: string[] = [];
  for (const [i, entry] of entries) {
    const placeOf = (path: readonly PropertyKey[], part: "key" | "value" = "value") =>
      document.place(["alarms", i, ...path], part);
    if (entry.watch === false) {
      dropped.push(entry.tag);
      continue;
    }
    const read = ruleOf(entry, placeOf);
    problems.push(...read.problems);
    if (read.rule === undefined) continue;
    rules.push(read.rule);
    problems.push(...ruleProblems(read.rule, catalogue, placeOf));
    problems.push(...neverRaised(read.rule, catalogue, (path) => placeOf(path)));
  }
  return { rules, dropped, problems };
}

type PlaceOf = (path: readonly PropertyKey[], part?: "key" | "value") => Place;

/** The rule that an entry makes; undefined where it lacks something or waits for a later version. */
function ruleOf(
  entry: RuleEntry,
  placeOf: PlaceOf,
): { rule: Rule | undefined; problems: Problem[] } {
  const problems: Problem[] = [];

  const tests = TESTS.flatMap((kind) => entry[kind] === undefined ? [] : [entry[kind]]);
  if (tests.length > 1) {
    problems.push({
      kind: "conflict",
      place: placeOf([tests[1].kind], "key"),
      found: `"${entry.tag}" has more than one test`,
      remedy: "make a rule of each",
    });
  }
  const missing = (what: string) => {
    problems.push({ kind: "missing", place: placeOf(["tag"], "key"), what, owner: "a rule" });
  };
  if (tests.length === 0) {
    missing(`${TESTS.slice(0, -1).join(", ")} or ${TESTS.at(-1)}`);
  }
  if (entry.title === undefined) missing("title");
  if (entry.priority === undefined) missing("priority");

  const [test] = tests;
  if (test === undefined || entry.title === undefined || entry.priority === undefined) {
    return { rule: undefined, problems };
  }
  const rule: Rule = {
    tag: entry.tag,
    title: entry.title,
    each: entry.each ?? null,
    where: entry.where ?? {},
    only: entry.only ?? null,
    test,
    watchWhile: entry["watch-while"] ?? null,
    suppressedWhile: entry["suppressed-while"] ?? null,
    covers: entry.covers ?? [],
    onDelay: entry["on-delay"] ?? 0,
    offDelay: entry["off-delay"] ?? 0,
    priority: entry.priority,
    latching: entry.latching ?? USUAL_MANNER.latching,
    againAfter: entry["re-alarm"] ?? USUAL_MANNER.againAfter,
    risesAfter: entry["alarm-when-unanswered"] ?? USUAL_MANNER.risesAfter,
    longestShelving: entry["longest-shelving"] ?? USUAL_MANNER.longestShelving,
    consequence: entry.consequence ?? "",
    response: { aboard: entry.response?.aboard ?? "", ashore: entry.response?.ashore ?? "" },
  };
  return { rule, problems };
}

function repeatedTags(
  entries: readonly [number, RuleEntry][],
  document: WrittenFile,
): Problem[] {
  const seen = new Set<string>();
  return entries.flatMap(([i, { tag }]): Problem[] => {
    if (!seen.has(tag)) {
      seen.add(tag);
      return [];
    }
    return [{
      kind: "conflict",
      place: document.place(["alarms", i, "tag"], "value"),
      found: `the tag "${tag}" is in this file twice`,
      remedy: "give one of them another tag",
    }];
  });
}

const MERGING: Merging = { tests: TESTS, groups: [...TESTS, "response"] };

function ownerOf(path: readonly PropertyKey[]): string {
  if (path.length === 0) return "a rule file";
  if (path.length === 2) return "a rule";
  if (path.includes("watch-while") || path.includes("suppressed-while")) return "a condition";
  return `"${String(path.at(-1))}" of a rule`;
}
