import type { Rule } from "../../alarms/rules/rule.ts";
import type { Sweep } from "./sweep.ts";

/** The rules of a rehearsal: what covers a rule that is tried covers each of its variants too. */
export function coveringTried(rules: readonly Rule[], sweeps: readonly Sweep[]): Rule[] {
  return rules.map((rule) => {
    const tried = sweeps.filter((sweep) => rule.covers.includes(sweep.rule.tag))
      .flatMap(({ variants }) => variants.map((variant) => variant.rule.tag));
    return tried.length === 0 ? rule : { ...rule, covers: [...rule.covers, ...tried] };
  });
}
