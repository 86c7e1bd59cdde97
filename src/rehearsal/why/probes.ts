import type { Rule } from "../../alarms/rules/rule.ts";
import type { AlarmChange } from "../../alarms/change.ts";
import type { Micros } from "../../ground/time.ts";
import { hiddenTag, watchingLike } from "../hidden-rules.ts";
import { occurrencesOf } from "../occurrences.ts";

/**
 * Hidden rules that tell why an alarm did not come: the same test, and of what holds it back one thing
 * more in each. The first of them that is never raised names what held it back.
 */
const PROBES = {
  /** The test alone. */
  past: (rule: Rule): Partial<Rule> => ({
    ...atOnce(rule),
    watchWhile: null,
    suppressedWhile: null,
  }),
  /** With the condition that lets it watch. */
  watched: (rule: Rule): Partial<Rule> => ({ ...atOnce(rule), suppressedWhile: null }),
  /** With the condition that holds it back. */
  unsuppressed: (rule: Rule): Partial<Rule> => atOnce(rule),
  /** With its delays: only that another alarm covers it, or that a person holds it back, is left. */
  due: (): Partial<Rule> => ({}),
} as const;
type Probe = keyof typeof PROBES;

export function probesOf(rule: Rule): Rule[] {
  return Object.entries(PROBES).map(([probe, make]) => ({
    ...watchingLike(rule, hiddenTag(rule.tag, probe)),
    ...make(rule),
  }));
}

/** A stretch of time by the wall's clock. */
export interface Stretch {
  readonly from: Micros;
  /** The run's end, where it went on until then. */
  readonly to: Micros;
}

/** When each probe of one rule was raised for one subject. */
export type Probed = Readonly<Record<Probe, readonly Stretch[]>>;

export function probed(
  { tag, subject }: { readonly tag: string; readonly subject: string },
  hidden: readonly AlarmChange[],
  ends: Micros,
): Probed {
  const of = (probe: Probe) => {
    const own = hiddenTag(tag, probe);
    const changes = hidden.filter((one) => one.tag === own && one.subject === subject);
    return occurrencesOf(changes)
      .map(({ raised, returned }) => ({ from: raised, to: returned ?? ends }));
  };
  return {
    past: of("past"),
    watched: of("watched"),
    unsuppressed: of("unsuppressed"),
    due: of("due"),
  };
}

/** Those stretches alone of which this is true. */
export function probedWhere(all: Probed, isMeant: (stretch: Stretch) => boolean): Probed {
  return {
    past: all.past.filter(isMeant),
    watched: all.watched.filter(isMeant),
    unsuppressed: all.unsuppressed.filter(isMeant),
    due: all.due.filter(isMeant),
  };
}

function atOnce(rule: Rule): Partial<Rule> {
  return { test: withoutDeadband(rule.test), onDelay: 0, offDelay: 0 };
}

/** An on-delay takes no heed of the deadband. */
function withoutDeadband(test: Rule["test"]): Rule["test"] {
  return test.kind === "low" || test.kind === "high"
    ? { ...test, deadband: { kind: "share", percent: 0 } }
    : test;
}
