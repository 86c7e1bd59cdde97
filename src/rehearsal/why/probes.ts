import type { Rule } from "../../alarms/rules/rule.ts";
import type { AlarmChange } from "../../alarms/change.ts";
import type { Micros } from "../../ground/time.ts";
import { hiddenTag, watchingLike } from "../hidden-rules.ts";
import { occurrencesOf } from "../occurrences.ts";

/**
 * Two hidden rules that tell why an alarm did not come: the same test without anything that holds it
 * back, and the same with only the owner's condition. Where the first is raised the test was past its
 * limit; where the second is, the rule was watching too.
 */
export function probesOf(rule: Rule): Rule[] {
  const bare = (tag: string): Rule => ({
    ...watchingLike(rule, tag),
    test: withoutDeadband(rule.test),
    onDelay: 0,
    offDelay: 0,
  });
  return [
    { ...bare(pastTag(rule.tag)), watchWhile: null, suppressedWhile: null },
    bare(watchedTag(rule.tag)),
  ];
}

/** A stretch of time by the wall's clock. */
export interface Stretch {
  readonly from: Micros;
  /** The run's end, where it went on until then. */
  readonly to: Micros;
}

/** What the probes of one rule found for one subject. */
export interface Probed {
  /** Past its limit. */
  readonly past: readonly Stretch[];
  /** Past its limit while it was watching. */
  readonly watched: readonly Stretch[];
}

export function probed(
  { tag, subject }: { readonly tag: string; readonly subject: string },
  hidden: readonly AlarmChange[],
  ends: Micros,
): Probed {
  const of = (probe: string) =>
    occurrencesOf(hidden.filter((one) => one.tag === probe && one.subject === subject))
      .map(({ raised, returned }) => ({ from: raised, to: returned ?? ends }));
  return { past: of(pastTag(tag)), watched: of(watchedTag(tag)) };
}

function pastTag(tag: string): string {
  return hiddenTag("past", tag);
}

function watchedTag(tag: string): string {
  return hiddenTag("watched", tag);
}

/** An on-delay takes no heed of the deadband. */
function withoutDeadband(test: Rule["test"]): Rule["test"] {
  return test.kind === "low" || test.kind === "high"
    ? { ...test, deadband: { kind: "share", percent: 0 } }
    : test;
}
