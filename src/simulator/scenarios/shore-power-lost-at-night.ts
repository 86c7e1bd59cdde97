import { MINUTE } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";
import { AT_THE_MOORING } from "./passages.ts";

export const SHORE_POWER_LOST_AT_NIGHT: Scenario = {
  name: "shore-power-lost-at-night",
  story:
    "Shore power fails, the charger that it feeds leaves the bus, and an old bank, of which little is left, slowly falls below 12.2 V, then 11.8.",
  lasting: 110 * MINUTE,
  again: false,
  aboard: { house: { chemistry: "agm", capacity: 36 } },
  start: { ...AT_THE_MOORING, house: 0.98 },
  happenings: [{ at: 10 * MINUTE, do: "fault", fault: { kind: "shore-power-lost" } }, {
    at: 11 * MINUTE,
    do: "load",
    amperes: 20,
  }],
};
