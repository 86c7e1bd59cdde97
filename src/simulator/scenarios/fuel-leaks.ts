import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const FUEL_LEAKS: Scenario = {
  name: "fuel-leaks",
  story: "Fuel runs out of the port tank at the mooring, seen by a sender that steps.",
  lasting: 75 * MINUTE,
  again: false,
  aboard: { tankSenders: "reed" },
  start: AT_THE_MOORING,
  happenings: [{
    at: 5 * MINUTE,
    do: "fault",
    fault: { kind: "tank-leaks", tank: "fuel-port", outflow: 60 },
  }],
};
