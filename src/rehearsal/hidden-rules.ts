import type { AlarmChange } from "../alarms/change.ts";
import { twoSendersRule } from "../alarms/compile/two-senders.ts";
import type { Rule } from "../alarms/rules/rule.ts";

/**
 * Rules that a rehearsal adds to the owner's to learn something exactly: when a mark is reached,
 * what another setpoint would have done. They run through the same lines of code as the owner's,
 * but nobody is told of them. Their tags hold a character that no written tag can have.
 */
const SIGN = ":";

/** @param like the tag of the owner's rule that it is like; empty: of none */
export function hiddenTag(like: string, ...parts: readonly string[]): string {
  return [like, ...parts].join(SIGN);
}

/** The tag of the owner's rule that a hidden rule is like; empty: of none. */
export function likeWhich({ tag }: { readonly tag: string }): string {
  return tag.split(SIGN)[0];
}

export function isHidden({ tag }: { readonly tag: string }): boolean {
  return tag.includes(SIGN);
}

/** A rule that only watches: as a caution it waits for nobody's answer, and it covers nothing. */
export function watchingRule(tag: string, test: Rule["test"]): Rule {
  // The built-in caution says nothing but its test; so does this one.
  return {
    ...twoSendersRule(""),
    tag,
    title: "",
    test,
    consequence: "",
    response: { aboard: "", ashore: "" },
  };
}

/** The same of an owner's rule, for its subjects and under its conditions. */
export function watchingLike(rule: Rule, tag: string): Rule {
  const { each, where, only, watchWhile, suppressedWhile, onDelay, offDelay } = rule;
  return {
    ...watchingRule(tag, rule.test),
    each,
    where,
    only,
    watchWhile,
    suppressedWhile,
    onDelay,
    offDelay,
  };
}

/** An owner's changes and those of hidden rules. */
export function parted(
  changes: readonly AlarmChange[],
): { told: AlarmChange[]; hidden: AlarmChange[] } {
  return {
    told: changes.filter((change) => !isHidden(change)),
    hidden: changes.filter(isHidden),
  };
}
