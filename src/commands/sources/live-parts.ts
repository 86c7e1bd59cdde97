import type { LiveParts } from "../../bus/live-parts.ts";
import { backOff } from "../../ground/back-off.ts";
import type { Clock } from "../../ground/clock.ts";
import { type Micros, MILLISECOND, SECOND } from "../../ground/time.ts";

/** A boat's bus is beside us: it is looked for more often than a server far away. */
const LONGEST_WAIT: Micros = 10 * SECOND;

/** How live adapters wait and try again, by the machine's clock. */
export function liveParts(clock: Clock): LiveParts {
  return {
    clock,
    delay: (attempt) => backOff(attempt, Math.random(), LONGEST_WAIT),
    sleep: (length, signal) =>
      new Promise((resolve) => {
        if (signal.aborted) return resolve();
        const end = (): void => {
          clearTimeout(timer);
          signal.removeEventListener("abort", end);
          resolve();
        };
        const timer = setTimeout(end, length / MILLISECOND);
        signal.addEventListener("abort", end);
      }),
  };
}
