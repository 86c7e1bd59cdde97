/** An instant (integer microseconds since the Unix epoch) or a length of time (microseconds). */
export type Micros = number;

export const MILLISECOND: Micros = 1_000;
export const SECOND: Micros = 1_000_000;
export const MINUTE: Micros = 60 * SECOND;
export const HOUR: Micros = 60 * MINUTE;
export const DAY: Micros = 24 * HOUR;

/**
 * ISO 8601 in UTC with six decimals (files and exports) or three (MQTT, cut, not rounded,
 * so that a time never lies in the future of itself).
 */
export function isoTime(time: Micros, decimals: 3 | 6): string {
  const milliseconds = Math.floor(time / MILLISECOND);
  const whole = new Date(milliseconds).toISOString();
  if (decimals === 3) return whole;
  const rest = time - milliseconds * MILLISECOND;
  return `${whole.slice(0, -1)}${String(rest).padStart(3, "0")}Z`;
}

const ISO_PATTERN = /^(\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2})(?:\.(\d{1,6}))?(Z|[+-]\d{2}:\d{2})$/;

/** The instant that an ISO 8601 text with a zone names, or undefined. */
export function parseIsoTime(text: string): Micros | undefined {
  const parts = ISO_PATTERN.exec(text);
  if (parts === null) return undefined;
  const seconds = Date.parse(`${parts[1]}${parts[3]}`);
  if (Number.isNaN(seconds)) return undefined;
  return seconds * MILLISECOND + Number((parts[2] ?? "").padEnd(6, "0"));
}
