import { type Rule, USUAL_MANNER } from "../rules/rule.ts";

/** Tag of the built-in caution that alarms have not been made to sound for a season. */
export const PROOF_DUE = "proof-due";

/** Quantity of how many they are, a signal of the computer. */
export const PROOFS_DUE = "proofs-due";

export const PROOF_DUE_RULE: Rule = {
  tag: PROOF_DUE,
  title: "Alarms want to be tried",
  each: null,
  where: {},
  only: null,
  test: {
    kind: "high",
    signal: { name: `computer/${PROOFS_DUE}`, of: null },
    setpoint: { kind: "fixed", amount: { value: 0, code: "1", written: "0" } },
    deadband: { kind: "share", percent: 0 },
  },
  watchWhile: null,
  suppressedWhile: null,
  covers: [],
  onDelay: 0,
  offDelay: 0,
  priority: "caution",
  ...USUAL_MANNER,
  consequence: "Nobody knows whether they would sound.",
  response: {
    aboard: "Make each of them sound: lift the float by hand, pull a plug, warm a sender.",
    ashore: "Have them tried at the next visit.",
  },
};
