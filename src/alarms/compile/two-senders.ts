import type { Rule } from "../rules/rule.ts";
import { builtInCaution } from "./built-in-caution.ts";

/** Quantity of the derived bit that says that two devices send one subject, and the caution's tag. */
export const TWO_SENDERS = "two-senders";

/** The built-in caution about one contested subject (contract §3). */
export function twoSendersRule(signal: string): Rule {
  return builtInCaution({
    tag: TWO_SENDERS,
    title: "Two devices send the same thing",
    test: { kind: "bit-pattern", bits: [{ signal: { name: signal, of: null }, on: true }] },
    consequence: "Nobody can tell which of them is right, so nothing is judged from either.",
    response: {
      aboard: "Give each device its own instance, or name the device in the boat file.",
      ashore: "Rules about this are not judged until the two are told apart.",
    },
  });
}
