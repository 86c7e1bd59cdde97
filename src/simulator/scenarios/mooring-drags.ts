import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const MOORING_DRAGS: Scenario = {
  name: "mooring-drags",
  story: "The boat drags her mooring to the north-east, a hundred metres in ten minutes.",
  lasting: 15 * MINUTE,
  again: false,
  start: AT_THE_MOORING,
  happenings: [
    { at: 2 * MINUTE, do: "fault", fault: { kind: "mooring-drags", speed: 0.17 } },
  ],
};
