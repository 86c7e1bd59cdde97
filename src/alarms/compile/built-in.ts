import type { SignalFacts } from "../../boat/signal-table.ts";
import type { Rule } from "../rules/rule.ts";
import { NOT_WATCHED } from "./not-watched.ts";
import { UNNAMED_BUS } from "../../boat/unnamed-buses.ts";
import { BUS_UNNAMED, busUnnamedRule } from "./bus-unnamed.ts";
import { PROOFS_DUE } from "../../boat/computer-state.ts";
import { PROOF_DUE, PROOF_DUE_RULE } from "./proof-due.ts";
import { RULES_REFUSED, RULES_REFUSED_RULE } from "./rules-refused.ts";
import { TWO_SENDERS, twoSendersRule } from "./two-senders.ts";

/** Tags of the cautions that no rule file holds. */
export const BUILT_IN_TAGS: readonly string[] = [
  TWO_SENDERS,
  NOT_WATCHED,
  RULES_REFUSED,
  PROOF_DUE,
  BUS_UNNAMED,
];

/** The built-in caution that a signal brings with it, and its subject; null for most. */
export function builtInAbout(
  { group, subject, quantity, name }: SignalFacts,
): { readonly rule: Rule; readonly subject: string } | null {
  if (quantity === TWO_SENDERS) {
    return { rule: twoSendersRule(name), subject: subject === "" ? group : `${group}-${subject}` };
  }
  if (group === "network" && quantity === UNNAMED_BUS) {
    return { rule: busUnnamedRule(name), subject };
  }
  if (group === "computer" && quantity === RULES_REFUSED) {
    return { rule: RULES_REFUSED_RULE, subject: "boat" };
  }
  if (group === "computer" && quantity === PROOFS_DUE) {
    return { rule: PROOF_DUE_RULE, subject: "boat" };
  }
  return null;
}
