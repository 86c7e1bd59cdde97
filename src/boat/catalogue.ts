import { AC_POWER_ENTRIES } from "./catalogue/ac-power.ts";
import { ENGINE_ENTRIES } from "./catalogue/engine.ts";
import type { CatalogueEntry } from "./catalogue/entry.ts";
import { ENVIRONMENT_ENTRIES } from "./catalogue/environment.ts";
import { J1939_ENGINE_ENTRIES } from "./catalogue/j1939-engine.ts";
import { NAVIGATION_ENTRIES } from "./catalogue/navigation.ts";
import { POWER_ENTRIES } from "./catalogue/power.ts";
import { TANK_AND_SWITCH_ENTRIES } from "./catalogue/tanks-and-switches.ts";

/** What messages are called as signals: a pure table, one entry for each kind of message. */
export const CATALOGUE: readonly CatalogueEntry[] = [
  ...ENGINE_ENTRIES,
  ...POWER_ENTRIES,
  ...AC_POWER_ENTRIES,
  ...TANK_AND_SWITCH_ENTRIES,
  ...NAVIGATION_ENTRIES,
  ...ENVIRONMENT_ENTRIES,
  ...J1939_ENGINE_ENTRIES,
];
