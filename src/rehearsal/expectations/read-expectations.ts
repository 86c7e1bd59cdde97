import { BUILT_IN_TAGS } from "../../alarms/compile/built-in.ts";
import { NOT_WATCHED } from "../../alarms/compile/not-watched.ts";
import { ruleProblems } from "../../alarms/rules/check-rule.ts";
import type { QuantityCatalogue } from "../../alarms/rules/signal-check.ts";
import { placeOfName } from "../../alarms/rules/signal-name.ts";
import type { Rule } from "../../alarms/rules/rule.ts";
import type { Boat } from "../../boat/boat.ts";
import type { Place, Problem } from "../../ground/problem.ts";
import { isFault } from "../../ground/problem-words.ts";
import { byPlace, checkWith } from "../../ground/schema-problems.ts";
import { nearestName } from "../../ground/spelling.ts";
import { readYaml, type YamlFile } from "../../ground/yaml-file.ts";
import { hiddenTag, watchingRule } from "../hidden-rules.ts";
import { unknownSubject } from "../unknown-subject.ts";
import { ownerOf } from "./expectation-owner.ts";
import {
  expectationFileSchema,
  soundExpectations,
  testOfMark,
  type WrittenExpectations,
  type WrittenLine,
  type WrittenMark,
} from "./expectation-schema.ts";
import type { Expectations, ExpectedAlarm, Mark, Window } from "./expectations.ts";
import { type ExpectedTime, isKnownToBeLater } from "./expected-time.ts";
import { meantInstead } from "./meant-instead.ts";

/** What the names in expectations are held against. */
export interface KnownNames {
  /** Null: not given, and no tag is held against them. */
  readonly rules: readonly Rule[] | null;
  readonly boat: Boat;
  readonly catalogue: QuantityCatalogue;
}

export interface ReadExpectations {
  /** Undefined where there is any problem but notices. */
  readonly value: Expectations | undefined;
  readonly problems: Problem[];
}

/** Reads `NAME.expect.yaml`; all problems come at once. */
export function readExpectations(file: string, text: string, known: KnownNames): ReadExpectations {
  const { document, problems: faults, wellFormed } = readYaml(file, text);
  if (!wellFormed) return { value: undefined, problems: faults };
  // An empty file expects nothing to come.
  const problems = document.value === null
    ? []
    : checkWith(expectationFileSchema, document, ownerOf).problems;
  return expectationsOf(document, known, [...faults, ...problems]);
}

/**
 * Ties what was written to rules, subjects and marks.
 * @param before problems that were found earlier
 */
export function expectationsOf(
  document: YamlFile,
  known: KnownNames,
  before: readonly Problem[],
): ReadExpectations {
  const reader = new Reader(document, known);
  const written = soundExpectations(document.value);
  const names = document.keys(["marks"]);
  const value = {
    marks: written.marks.map(([name, mark]) => reader.mark(name, mark)),
    alarms: written.lines.map(([at, line]) => reader.alarm(line, at, names)),
    never: written.never.map(([at, tag]) => reader.never(tag, at, written)),
    anythingElse: written.anythingElse,
  };
  const problems = [...before, ...reader.problems].sort(byPlace);
  return { value: problems.some(isFault) ? undefined : value, problems };
}

class Reader {
  readonly problems: Problem[] = [];

  constructor(readonly document: YamlFile, readonly known: KnownNames) {}

  mark(name: string, { signal, first }: WrittenMark): Mark {
    const words = `${signal} ${first.words}`;
    const rule = watchingRule(hiddenTag("", words), testOfMark(signal, first));
    const place = (path: readonly PropertyKey[]) =>
      this.document.place(["marks", name, path.includes("signal") ? "signal" : "first"], "value");
    const problems = ruleProblems(rule, this.known.catalogue, place);
    this.problems.push(...problems);
    if (problems.length === 0) {
      const { group, subject } = placeOfName(signal);
      this.#named(subject, group, place(["signal"]));
    }
    return { name, words, rule, place: place([]) };
  }

  alarm(line: WrittenLine, i: number, marks: readonly string[]): ExpectedAlarm {
    const path = ["expect", i];
    this.#tag(line.alarm, [...path, "alarm"]);
    return {
      tag: line.alarm,
      subject: this.#subject(line, path),
      raised: this.#window(line.raised, [...path, "raised"], marks),
      returned: line.returned === undefined
        ? null
        : this.#window(line.returned, [...path, "returned"], marks),
      place: this.document.place(path, "value"),
    };
  }

  never(tag: string, i: number, { lines }: WrittenExpectations): Expectations["never"][number] {
    const place = this.document.place(["never", i], "value");
    this.#tag(tag, ["never", i]);
    if (lines.some(([, line]) => line.alarm === tag)) {
      this.problems.push({
        kind: "conflict",
        place,
        found: `"${tag}" must never come, and is expected above`,
        remedy: "take one of the two away",
      });
    }
    return { tag, place };
  }

  #tag(tag: string, path: readonly PropertyKey[]): void {
    if (this.known.rules === null) return;
    const tags = [...this.known.rules.map((rule) => rule.tag), ...BUILT_IN_TAGS];
    if (tags.includes(tag)) return;
    this.#unknown(tag, tags, "this set of rules", this.document.place(path, "value"));
  }

  #subject({ alarm, subject }: WrittenLine, path: readonly PropertyKey[]): string {
    const rule = this.known.rules?.find(({ tag }) => tag === alarm);
    const each = rule?.each ?? null;
    const isBuiltIn = BUILT_IN_TAGS.includes(alarm);
    if (subject === undefined) {
      if (each !== null || isBuiltIn) {
        this.problems.push({
          kind: "missing",
          place: this.document.place([...path, "alarm"], "key"),
          what: "subject",
          owner: isBuiltIn ? `the caution ${alarm}` : `an alarm of one ${each}`,
        });
      }
      return "boat";
    }
    const place = this.document.place([...path, "subject"], "value");
    if (alarm === NOT_WATCHED) this.#notWatched(subject, place);
    else if (rule !== undefined) this.#about(rule, subject, place);
    return subject;
  }

  /** `oil-pressure-low--port`: a rule and its subject. */
  #notWatched(written: string, place: Place): void {
    const { rules } = this.known;
    const [tag, subject] = written.split("--");
    if (subject === undefined) {
      const expected = "a rule and its subject, such as oil-pressure-low--port";
      this.problems.push({ kind: "wrong-value", place, found: written, expected });
      return;
    }
    if (rules === null) return;
    const rule = rules.find((one) => one.tag === tag);
    if (rule !== undefined) this.#about(rule, subject, place);
    else this.#unknown(tag, rules.map((one) => one.tag), "this set of rules", place);
  }

  #about(rule: Rule, subject: string, place: Place): void {
    if (this.#named(subject, rule.each, place)) return;
    const expected = meantInstead(rule, subject, this.known.boat);
    if (expected !== null) {
      this.problems.push({ kind: "wrong-value", place, found: subject, expected });
    }
  }

  /** True where the name is a problem. */
  #named(subject: string, group: string | null, place: Place): boolean {
    const problem = unknownSubject(this.known.boat, group, subject);
    if (problem === null) return false;
    this.problems.push({ kind: "unknown-name", place, ...problem });
    return true;
  }

  #unknown(found: string, known: readonly string[], owner: string, place: Place): void {
    const nearest = nearestName(found, known);
    this.problems.push({
      kind: "unknown-name",
      place,
      found,
      owner,
      ...(nearest === undefined ? {} : { nearest }),
    });
  }

  #window(
    { from, to }: { readonly from: ExpectedTime; readonly to: ExpectedTime },
    path: readonly PropertyKey[],
    marks: readonly string[],
  ): Window {
    const place = this.document.place(path, "value");
    for (const [i, time] of [from, to].entries()) {
      if (time.kind !== "since-mark" || marks.includes(time.mark)) continue;
      const at = this.document.place([...path, i], "value");
      this.#unknown(time.mark, marks, "the list of marks", at);
    }
    if (isKnownToBeLater(from, to)) this.problems.push(backwards(place));
    return { from, to, place };
  }
}

/** A window that ends before it begins. */
export function backwards(place: Window["place"]): Problem {
  return {
    kind: "conflict",
    place,
    found: "this window ends before it begins",
    remedy: "write the earlier time first",
  };
}
