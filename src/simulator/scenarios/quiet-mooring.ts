import { HOUR } from "../../ground/time.ts";
import type { Scenario } from "../happening.ts";

/** What a boat says most of its life. */
export const QUIET_MOORING: Scenario = {
  name: "quiet-mooring",
  story: "Nobody aboard: the charger holds the bank, the aft pump runs twice an hour, all is well.",
  lasting: 4 * HOUR,
  again: false,
  start: {
    engines: 16,
    gateways: "talking",
    shorePower: true,
    house: 0.985,
    battery: 0.98,
    aftBilge: 11.1,
  },
  happenings: [],
};
