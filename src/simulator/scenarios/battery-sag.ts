import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const BATTERY_SAG: Scenario = {
  name: "battery-sag",
  story:
    "A kettle takes 90 A from a small bank three times: the volts sag for two minutes and come back.",
  lasting: 12 * MINUTE,
  again: false,
  aboard: { house: { chemistry: "agm", capacity: 220 } },
  start: { ...AT_THE_MOORING, shorePower: false, house: 0.7 },
  happenings: [1, 5, 9].flatMap((minute) => [
    { at: minute * MINUTE, do: "load", amperes: 90 },
    { at: (minute + 2) * MINUTE, do: "load", amperes: 0 },
  ]),
};
