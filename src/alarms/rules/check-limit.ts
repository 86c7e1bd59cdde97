import type { UnitCode } from "../../units/codes.ts";
import type { Limit } from "./rule-parts.ts";
import type { Fit, SignalCheck } from "./signal-check.ts";

/**
 * Numbers of the boat file that a limit can be a share of, with their units. A battery's
 * `hourly-capacity` is the current that fills or empties it in one hour: 2 % of it is C/50.
 */
export const BOAT_NUMBERS: Readonly<Record<string, UnitCode>> = {
  "rated-speed": "1/min",
  "nominal": "V",
  "hourly-capacity": "A",
};

/** Complains where a limit is of another dimension than its signal, or a share of nothing known. */
export function checkLimit(check: SignalCheck, limit: Limit, fit: Fit): void {
  if (limit.kind !== "share-of") return check.fits(limit.amount, "limit", fit);
  const { number } = limit;
  const code = BOAT_NUMBERS[number];
  if (code !== undefined) return check.fits({ value: 0, code, written: number }, "number", fit);
  check.unknownName(fit.path, number, "a setpoint", Object.keys(BOAT_NUMBERS));
}
