import type { PgnRow } from "../row.ts";
import { AC_POWER_ROWS } from "./ac-power.ts";
import { CHARGING_CONFIGURATION_ROWS } from "./charging-configuration.ts";
import { DIAGNOSTIC_ROWS } from "./diagnostics.ts";
import { ENGINE_ROWS } from "./engine.ts";
import { ENVIRONMENT_ROWS } from "./environment.ts";
import { J1939_ENGINE_ROWS } from "./j1939-engine.ts";
import { NAVIGATION_ROWS } from "./navigation.ts";
import { NETWORK_ROWS } from "./network.ts";
import { POWER_ROWS } from "./power.ts";
import { STEERING_ROWS } from "./steering.ts";
import { SWITCHING_ROWS } from "./switching.ts";
import { TANK_ROWS } from "./tanks.ts";

/** Every message that Sternfast can read and write. */
export const ALL_ROWS: readonly PgnRow[] = [
  ...ENGINE_ROWS,
  ...POWER_ROWS,
  ...AC_POWER_ROWS,
  ...CHARGING_CONFIGURATION_ROWS,
  ...TANK_ROWS,
  ...SWITCHING_ROWS,
  ...NAVIGATION_ROWS,
  ...STEERING_ROWS,
  ...ENVIRONMENT_ROWS,
  ...NETWORK_ROWS,
  ...J1939_ENGINE_ROWS,
  ...DIAGNOSTIC_ROWS,
];
