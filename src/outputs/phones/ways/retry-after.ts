import { HOUR, type Micros, MILLISECOND, SECOND } from "../../../ground/time.ts";

/** An alarm is never put off for longer than this, whatever a service asks for. */
const LONGEST: Micros = HOUR;

/**
 * How long a service wants to be left alone: seconds or a date (RFC 9110, section 10.2.3).
 * @param header null where there is none
 */
export function retryAfter(header: string | null, wall: Micros): Micros | undefined {
  if (header === null) return undefined;
  const length = /^\s*\d+\s*$/.test(header)
    ? Number(header) * SECOND
    : Date.parse(header) * MILLISECOND - wall;
  return Number.isNaN(length) ? undefined : Math.min(LONGEST, Math.max(0, length));
}
