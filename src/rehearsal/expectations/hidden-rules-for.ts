import type { Rule } from "../../alarms/rules/rule.ts";
import { probesOf } from "../why/probes.ts";
import type { Expectations } from "./expectations.ts";

/**
 * The hidden rules that expectations need, each once: those that find their marks, and those that
 * tell why an expected alarm did not come.
 * @param asked rules about which a person asks why
 */
export function hiddenRules(
  files: readonly (Expectations | null)[],
  rules: readonly Rule[],
  asked: readonly Rule[],
): Rule[] {
  const marks = files.flatMap((file) => file?.marks.map(({ rule }) => rule) ?? []);
  const expected = new Set(files.flatMap((file) => file?.alarms.map(({ tag }) => tag) ?? []));
  const probes = rules.filter((rule) => expected.has(rule.tag) || asked.includes(rule))
    .flatMap(probesOf);
  return [...new Map([...marks, ...probes].map((rule) => [rule.tag, rule])).values()];
}
