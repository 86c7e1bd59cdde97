import { type Micros, MILLISECOND } from "../../../ground/time.ts";

/**
 * A time as a person in a zone says it: `14:31`, and `14:31 on 14 June` when that was another day.
 */
export function clockWords(time: Micros, now: Micros, timeZone: string): string {
  const clock = format(time, { timeZone, hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
  const day = { timeZone, day: "numeric", month: "long" } as const;
  const date = format(time, day);
  return date === format(now, day) ? clock : `${clock} on ${date}`;
}

function format(time: Micros, options: Intl.DateTimeFormatOptions): string {
  return new Intl.DateTimeFormat("en-GB", options).format(time / MILLISECOND);
}
