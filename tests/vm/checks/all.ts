import type { Check } from "../check.ts";
import { commandChecks } from "./commands.ts";
import { conformanceChecks } from "./conformance.ts";
import { frameChecks } from "./frames.ts";
import { realDriverChecks } from "./real-driver.ts";
import { recoveryChecks } from "./recovery.ts";
import { serialChecks } from "./serial.ts";
import { stoppedChecks } from "./stopped.ts";
import { twoBusesChecks } from "./two-buses.ts";

/** Every check that runs in the virtual machine, in this order. */
export const CHECKS: readonly Check[] = [
  ...frameChecks,
  ...recoveryChecks,
  ...serialChecks,
  ...realDriverChecks,
  ...conformanceChecks,
  ...commandChecks,
  ...twoBusesChecks,
  ...stoppedChecks,
];
