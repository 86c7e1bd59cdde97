import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const PUMP_CHOKED: Scenario = {
  name: "pump-choked",
  story: "Weed in the strainer: the aft pump runs for many minutes and lifts little.",
  lasting: 25 * MINUTE,
  again: false,
  start: { ...AT_THE_MOORING, aftBilge: 11.5 },
  happenings: [
    { at: 0, do: "fault", fault: { kind: "pump-choked", bilge: "aft" } },
    { at: 0, do: "fault", fault: { kind: "bilge-leaks", bilge: "aft", inflow: 60 } },
  ],
};
