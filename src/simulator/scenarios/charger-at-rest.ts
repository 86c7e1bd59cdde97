import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const CHARGER_AT_REST: Scenario = {
  name: "charger-at-rest",
  story: "The bank is full, the charger does nothing, and that is right.",
  lasting: 40 * MINUTE,
  again: false,
  start: { ...AT_THE_MOORING, house: 0.995 },
  happenings: [{ at: 0, do: "fault", fault: { kind: "charger-asleep" } }],
};
