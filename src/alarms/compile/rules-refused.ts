import { builtInCaution } from "./built-in-caution.ts";

/** Tag of the built-in caution that the rule files have a mistake. */
export const RULES_REFUSED = "rules-refused";

/** The built-in caution that earlier rules are in force (contract §5: "with a notice"). */
export const RULES_REFUSED_RULE = builtInCaution({
  tag: RULES_REFUSED,
  title: "The rule files have a mistake",
  test: {
    kind: "bit-pattern",
    bits: [{ signal: { name: `computer/${RULES_REFUSED}`, of: null }, on: true }],
  },
  consequence: "What was changed in them is not in force; the rules that were accepted last are.",
  response: {
    aboard: "Put the mistake right: `sternfast check` says where it is.",
    ashore: "Put the mistake right: `sternfast check` says where it is.",
  },
});
