import { type Rule, USUAL_MANNER } from "../rules/rule.ts";

/** Quantity of the derived bit that says that two devices send one subject, and the caution's tag. */
export const TWO_SENDERS = "two-senders";

/** The built-in caution about one contested subject (contract §3). */
export function twoSendersRule(signal: string): Rule {
  return {
    tag: TWO_SENDERS,
    title: "Two devices send the same thing",
    each: null,
    where: {},
    only: null,
    test: { kind: "bit-pattern", bits: [{ signal: { name: signal, of: null }, on: true }] },
    watchWhile: null,
    suppressedWhile: null,
    covers: [],
    onDelay: 0,
    offDelay: 0,
    priority: "caution",
    ...USUAL_MANNER,
    consequence: "Nobody can tell which of them is right, so nothing is judged from either.",
    response: {
      aboard: "Give each device its own instance, or name the device in the boat file.",
      ashore: "Rules about this are not judged until the two are told apart.",
    },
  };
}
