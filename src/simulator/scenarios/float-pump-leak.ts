import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const FLOAT_PUMP_LEAK: Scenario = {
  name: "float-pump-leak",
  story:
    "A pump that only its float switches shows only as 4.5 A for six seconds every four minutes beside a fridge; at last it fails and the high float lifts.",
  lasting: 40 * MINUTE,
  again: false,
  aboard: { forwardBilge: "sump" },
  start: { ...AT_THE_MOORING, shorePower: false },
  happenings: [
    { at: 0, do: "leak", bilge: "aft", inflow: 0 },
    {
      at: 0,
      do: "fault",
      fault: { kind: "reading", device: "switch-monitor", field: "indicator-5", reads: "nothing" },
    },
    { at: 0, do: "fault", fault: { kind: "bilge-leaks", bilge: "forward", inflow: 32 } },
    { at: 36 * MINUTE, do: "fault", fault: { kind: "pump-dead", bilge: "forward" } },
    { at: 36 * MINUTE, do: "fault", fault: { kind: "bilge-leaks", bilge: "forward", inflow: 700 } },
  ],
};
