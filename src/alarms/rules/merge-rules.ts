import type { RuleFile } from "./read-rules.ts";
import type { Rule } from "./rule.ts";

/** The rules of several files: of one tag the last counts, and `watch: no` drops it. */
export function mergeRules(files: readonly RuleFile[]): Rule[] {
  const byTag = new Map<string, Rule>();
  for (const file of files) {
    for (const rule of file.rules) byTag.set(rule.tag, rule);
    for (const tag of file.dropped) byTag.delete(tag);
  }
  return [...byTag.values()];
}
