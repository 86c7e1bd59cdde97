import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const LEAK_GROWS: Scenario = {
  name: "leak-grows",
  story: "A seal gives way slowly: the aft pump runs more and more often.",
  lasting: 60 * MINUTE,
  again: false,
  start: AT_THE_MOORING,
  happenings: [{
    at: 5 * MINUTE,
    do: "fault",
    fault: { kind: "bilge-leaks", bilge: "aft", inflow: 30, growing: 500 },
  }],
};
