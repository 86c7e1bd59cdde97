import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const CHARGER_DOES_NOT_HOLD: Scenario = {
  name: "charger-does-not-hold",
  story: "Shore power is there, but the charger sleeps and the bank gives what the boat takes.",
  lasting: 80 * MINUTE,
  again: false,
  start: { ...AT_THE_MOORING, house: 0.33 },
  happenings: [
    { at: 5 * MINUTE, do: "fault", fault: { kind: "charger-asleep" } },
    { at: 5 * MINUTE, do: "load", amperes: 25 },
  ],
};
