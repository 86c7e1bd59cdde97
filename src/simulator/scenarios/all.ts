import type { Scenario } from "../happening.ts";
import { HARBOUR_DAY } from "./harbour-day.ts";
import { KEY_OFF } from "./key-off.ts";
import { QUIET_MOORING } from "./quiet-mooring.ts";

/** Every story that the simulator can tell, by the name that a person types. */
export const SCENARIOS: ReadonlyMap<string, Scenario> = new Map(
  [HARBOUR_DAY, QUIET_MOORING, KEY_OFF].map((scenario) => [scenario.name, scenario]),
);
