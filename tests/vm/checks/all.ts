import type { Check } from "../check.ts";
import { frameChecks } from "./frames.ts";
import { recoveryChecks } from "./recovery.ts";
import { serialChecks } from "./serial.ts";

/** Every check that runs in the virtual machine, in this order. */
export const CHECKS: readonly Check[] = [...frameChecks, ...recoveryChecks, ...serialChecks];
