import type { Check } from "../check.ts";
import { commandChecks } from "./commands.ts";
import { frameChecks } from "./frames.ts";
import { realDriverChecks } from "./real-driver.ts";
import { recoveryChecks } from "./recovery.ts";
import { serialChecks } from "./serial.ts";
import { twoBusesChecks } from "./two-buses.ts";

/** Every check that runs in the virtual machine, in this order. */
export const CHECKS: readonly Check[] = [
  ...frameChecks,
  ...recoveryChecks,
  ...serialChecks,
  ...realDriverChecks,
  ...commandChecks,
  ...twoBusesChecks,
];
