import { type Rule, USUAL_MANNER } from "../rules/rule.ts";

/** Tag of the built-in caution that the rule files have a mistake. */
export const RULES_REFUSED = "rules-refused";

/** The built-in caution that earlier rules are in force (contract §5: "with a notice"). */
export const RULES_REFUSED_RULE: Rule = {
  tag: RULES_REFUSED,
  title: "The rule files have a mistake",
  each: null,
  where: {},
  only: null,
  test: {
    kind: "bit-pattern",
    bits: [{ signal: { name: `computer/${RULES_REFUSED}`, of: null }, on: true }],
  },
  watchWhile: null,
  suppressedWhile: null,
  covers: [],
  onDelay: 0,
  offDelay: 0,
  priority: "caution",
  ...USUAL_MANNER,
  consequence: "What was changed in them is not in force; the rules that were accepted last are.",
  response: {
    aboard: "Put the mistake right: `sternfast check` says where it is.",
    ashore: "Put the mistake right: `sternfast check` says where it is.",
  },
};
