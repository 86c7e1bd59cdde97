import { TWO_SENDERS } from "../../alarms/compile/two-senders.ts";
import { ruleProblems } from "../../alarms/rules/check-rule.ts";
import type { QuantityCatalogue } from "../../alarms/rules/signal-check.ts";
import type { Rule } from "../../alarms/rules/rule.ts";
import type { Boat } from "../../boat/boat.ts";
import type { Problem } from "../../ground/problem.ts";
import { isFault } from "../../ground/problem-words.ts";
import { byPlace, checkWith } from "../../ground/schema-problems.ts";
import { nearestName } from "../../ground/spelling.ts";
import { readYaml, type YamlFile } from "../../ground/yaml-file.ts";
import { hiddenTag, watchingRule } from "../hidden-rules.ts";
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
    const rule = watchingRule(hiddenTag("mark", words), testOfMark(signal, first));
    const place = (path: readonly PropertyKey[]) =>
      this.document.place(["marks", name, path.includes("signal") ? "signal" : "first"], "value");
    this.problems.push(...ruleProblems(rule, this.known.catalogue, place));
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
    const tags = [...this.known.rules.map((rule) => rule.tag), TWO_SENDERS];
    if (tags.includes(tag)) return;
    const nearest = nearestName(tag, tags);
    this.problems.push({
      kind: "unknown-name",
      place: this.document.place(path, "value"),
      found: tag,
      owner: "this set of rules",
      ...(nearest === undefined ? {} : { nearest }),
    });
  }

  #subject({ alarm, subject }: WrittenLine, path: readonly PropertyKey[]): string {
    const rule = this.known.rules?.find(({ tag }) => tag === alarm);
    const each = rule?.each ?? null;
    if (subject === undefined) {
      if (each !== null || alarm === TWO_SENDERS) {
        this.problems.push({
          kind: "missing",
          place: this.document.place([...path, "alarm"], "key"),
          what: "subject",
          owner: `an alarm of ${each === null ? "what two devices send" : `one ${each}`}`,
        });
      }
      return "boat";
    }
    const named = this.known.boat.subjects.filter(({ group }) => group === each)
      .map(({ name }) => name);
    // A number, alone or at the end, is what a device sends that the boat file does not name.
    if (named.length > 0 && !named.includes(subject) && !/\d$/.test(subject)) {
      const nearest = nearestName(subject, named);
      this.problems.push({
        kind: "unknown-name",
        place: this.document.place([...path, "subject"], "value"),
        found: subject,
        owner: "this boat",
        ...(nearest === undefined ? {} : { nearest }),
      });
    }
    return subject;
  }

  #window(
    { from, to }: { readonly from: ExpectedTime; readonly to: ExpectedTime },
    path: readonly PropertyKey[],
    marks: readonly string[],
  ): Window {
    const place = this.document.place(path, "value");
    for (const [i, time] of [from, to].entries()) {
      if (time.kind !== "since-mark" || marks.includes(time.mark)) continue;
      const nearest = nearestName(time.mark, marks);
      this.problems.push({
        kind: "unknown-name",
        place: this.document.place([...path, i], "value"),
        found: time.mark,
        owner: "the list of marks",
        ...(nearest === undefined ? {} : { nearest }),
      });
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
