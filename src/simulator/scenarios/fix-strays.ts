import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const FIX_STRAYS: Scenario = {
  name: "fix-strays",
  story:
    "At the mooring the satellite fix strays by tens of metres among masts and walls; the boat does not.",
  lasting: 40 * MINUTE,
  again: false,
  start: AT_THE_MOORING,
  happenings: [{ at: 2 * MINUTE, do: "fault", fault: { kind: "fix-strays", metres: 12 } }],
};
