import type { Micros } from "../../ground/time.ts";
import { type Occurrence, occurrencesOf } from "../occurrences.ts";
import type { RunPart } from "../run.ts";
import type { RunRecord } from "../run-record.ts";
import type { Expectations } from "./expectations.ts";
import { marksReached } from "./marks-reached.ts";
import { type Verdict, verdictOf } from "./verdict.ts";

/** One recording of a run with what is expected of it. */
export interface JudgedPart {
  readonly part: RunPart;
  readonly verdict: Verdict;
}

/**
 * Holds each recording of a run against its expectations. An alarm belongs to the recording in which
 * it was raised, even if it returned in a later one.
 * @param expectationsOf null: nothing is expected, and nothing held against it
 */
export function judgeRun(
  run: RunRecord,
  expectationsOf: (part: RunPart) => Expectations | null,
): JudgedPart[] {
  return run.parts.flatMap((part): JudgedPart[] => {
    const expectations = expectationsOf(part);
    if (expectations === null) return [];
    const marks = marksReached(expectations.marks, run.hidden, part);
    const base = { begins: part.begins, marks, clockSettings: run.clockSettings };
    return [{ part, verdict: verdictOf(expectations, occurrencesIn(run, part), base) }];
  });
}

/** The raisings of one recording of a run. */
export function occurrencesIn(run: RunRecord, part: RunPart): Occurrence[] {
  const place = run.parts.indexOf(part);
  const from: Micros = place === 0 ? -Infinity : part.begins;
  const to: Micros = run.parts[place + 1]?.begins ?? Infinity;
  return occurrencesOf(run.changes).filter(({ raised }) => raised >= from && raised < to);
}
