import { isRaising } from "../alarms/move-words.ts";
import type { Rule } from "../alarms/rules/rule.ts";
import { signalsNeeded } from "../alarms/rules/signals-needed.ts";
import type { RunRecord } from "./run-record.ts";

/** What people say of the boat, as rules ask for it. */
const CONDITION = "boat/condition";

/**
 * The rules that ask who is aboard and were raised in a run; in the order of their tags. Recordings
 * do not tell who was, so that each trip seems to be one with nobody aboard.
 */
export function raisedByAbsence({ changes }: RunRecord, rules: readonly Rule[]): string[] {
  const raised = new Set(changes.filter(isRaising).map(({ tag }) => tag));
  return rules.filter((rule) => raised.has(rule.tag) && asksWhoIsAboard(rule))
    .map(({ tag }) => tag).sort();
}

function asksWhoIsAboard(rule: Rule): boolean {
  return signalsNeeded(rule).some(({ name }) => name === CONDITION);
}
