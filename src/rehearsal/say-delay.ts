import { type Micros, SECOND } from "../ground/time.ts";
import { sayDuration } from "../units/duration.ts";

/** `80 s` rather than `1 min 20 s`: delays are compared. */
export function sayDelay(length: Micros): string {
  if (length >= 120 * SECOND || length < SECOND) return sayDuration(length);
  return `${Number((length / SECOND).toFixed(1))} s`;
}
