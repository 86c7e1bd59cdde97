import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const FLOAT_CHATTER: Scenario = {
  name: "float-chatter",
  story:
    "The aft high-water float has come loose and follows every wave, though there is little water.",
  lasting: 25 * MINUTE,
  again: false,
  start: { ...AT_THE_MOORING, aftBilge: 9 },
  happenings: [
    { at: 0, do: "waves", times: 1.5 },
    { at: 0, do: "fault", fault: { kind: "float-loose", bilge: "aft" } },
  ],
};
