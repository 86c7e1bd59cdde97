import type { Priority } from "../../../alarms/words.ts";
import { type Micros, MINUTE } from "../../../ground/time.ts";
import { clockWords } from "./clock-words.ts";

/**
 * How long after it was due a message is still told as new (our judgement): an emergency is a matter
 * of minutes, and nobody loses a boat to a caution of this morning.
 */
export const NEW_FOR: Readonly<Record<Priority, Micros>> = {
  "emergency-alarm": 2 * MINUTE,
  "alarm": 5 * MINUTE,
  "warning": 30 * MINUTE,
  "caution": 120 * MINUTE,
};

/** `Was due at 03:10 and could not be sent until now:` before the message itself. */
export function lateWords(due: Micros, now: Micros, timeZone: string): string {
  return `Was due at ${clockWords(due, now, timeZone)} and could not be sent until now:`;
}
