import { MINUTE, SECOND } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { ABOUT_TO_LEAVE, getUnderWay, startEngines, woven } from "./passages.ts";

export const BATTERY_OPENS_UNDER_CHARGE: Scenario = {
  name: "battery-opens-under-charge",
  story:
    "A lithium bank opens while the alternator gives it 120 A: the current steps to 0 and the volts jump to 16.5 for one sample.",
  lasting: 4 * MINUTE,
  again: false,
  aboard: { portAlternator: 150 },
  start: { ...ABOUT_TO_LEAVE, house: 0.5 },
  happenings: woven(startEngines(SECOND), getUnderWay(20 * SECOND, 2200), [{
    at: 150 * SECOND,
    do: "fault",
    fault: { kind: "house-opens" },
  }]),
};
