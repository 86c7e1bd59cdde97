import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const CHARGER_OVERCHARGES: Scenario = {
  name: "charger-overcharges",
  story: "The charger's regulator has failed: 15.6 V on a full lead bank.",
  lasting: 15 * MINUTE,
  again: false,
  aboard: { house: { chemistry: "agm", capacity: 220 } },
  start: { ...AT_THE_MOORING, house: 0.97 },
  happenings: [{ at: 3 * MINUTE, do: "fault", fault: { kind: "charger-overcharges" } }],
};
