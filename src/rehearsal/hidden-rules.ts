import type { AlarmChange } from "../alarms/change.ts";
import type { Rule } from "../alarms/rules/rule.ts";

/**
 * Rules that a rehearsal adds to the owner's to learn something exactly: when a mark is reached,
 * what another setpoint would have done. They run through the same lines of code as the owner's,
 * but nobody is told of them. Their tags hold a character that no written tag can have.
 */
const SIGN = ":";

export function hiddenTag(...parts: readonly string[]): string {
  return parts.join(SIGN);
}

export function isHidden({ tag }: { readonly tag: string }): boolean {
  return tag.includes(SIGN);
}

/** A rule that only watches: as a caution it waits for nobody's answer. */
export function watchingRule(tag: string, test: Rule["test"]): Rule {
  return {
    tag,
    title: "",
    each: null,
    where: {},
    only: null,
    test,
    watchWhile: null,
    onDelay: 0,
    offDelay: 0,
    priority: "caution",
    consequence: "",
    response: { aboard: "", ashore: "" },
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
