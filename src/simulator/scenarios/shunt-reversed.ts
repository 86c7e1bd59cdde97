import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const SHUNT_REVERSED: Scenario = {
  name: "shunt-reversed",
  story:
    "The shunt was fitted the other way round: it calls charging what is discharging, and counts backwards.",
  lasting: 20 * MINUTE,
  again: false,
  start: { ...AT_THE_MOORING, house: 0.6 },
  happenings: [
    { at: 0, do: "fault", fault: { kind: "shunt-reversed" } },
    { at: 10 * MINUTE, do: "shore-power", on: false },
    { at: 10 * MINUTE, do: "load", amperes: 40 },
  ],
};
