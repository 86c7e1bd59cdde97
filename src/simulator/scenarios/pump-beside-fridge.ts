import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const PUMP_BESIDE_FRIDGE: Scenario = {
  name: "pump-beside-fridge",
  story:
    "Without shore power the aft pump runs every few minutes, and a fridge that takes as much starts and stops beside it.",
  lasting: 120 * MINUTE,
  again: false,
  start: { ...AT_THE_MOORING, shorePower: false, house: 0.8 },
  happenings: [{ at: 0, do: "leak", bilge: "aft", inflow: 100 }],
};
