import { PROOFS_DUE } from "../../boat/computer-state.ts";
import { builtInCaution } from "./built-in-caution.ts";

/** Tag of the built-in caution that alarms have not been made to sound for a season. */
export const PROOF_DUE = "proof-due";

export const PROOF_DUE_RULE = builtInCaution({
  tag: PROOF_DUE,
  title: "Alarms want to be tried",
  test: {
    kind: "high",
    signal: { name: `computer/${PROOFS_DUE}`, of: null },
    setpoint: { kind: "fixed", amount: { value: 0, code: "1", written: "0" } },
    deadband: { kind: "share", percent: 0 },
  },
  consequence: "Nobody knows whether they would sound.",
  response: {
    aboard: "Make each of them sound: lift the float by hand, pull a plug, warm a sender.",
    ashore: "Have them tried at the next visit.",
  },
});
