import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const PUMP_DEAD: Scenario = {
  name: "pump-dead",
  story: "The aft pump is switched on and draws no current.",
  lasting: 25 * MINUTE,
  again: false,
  start: { ...AT_THE_MOORING, shorePower: false, house: 0.8, aftBilge: 11.5 },
  happenings: [
    { at: 0, do: "fault", fault: { kind: "pump-dead", bilge: "aft" } },
    { at: 0, do: "fault", fault: { kind: "bilge-leaks", bilge: "aft", inflow: 60 } },
  ],
};
