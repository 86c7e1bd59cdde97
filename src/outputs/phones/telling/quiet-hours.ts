import type { Priority } from "../../../alarms/words.ts";
import { isCredible } from "../../../ground/clock.ts";
import { type Micros, MILLISECOND, MINUTE } from "../../../ground/time.ts";

/** Hours of the boat's own clock in which a person is left alone. */
export interface QuietHours {
  /** Minutes after midnight; `to` may be on the next day. */
  readonly from: number;
  readonly to: number;
  /** What waits until they are over. */
  readonly holds: readonly Priority[];
}

const DAY_MINUTES = 24 * 60;

/**
 * How long the quiet hours that hold now still last; 0 outside them. On a night when the clocks are
 * changed it may be an hour wrong: ask again before. A computer that does not know the time holds
 * nothing back.
 * @param timeZone IANA name
 */
export function quietFor(
  { from, to }: QuietHours,
  wall: Micros,
  timeZone: string,
): Micros {
  if (!isCredible(wall)) return 0;
  const minute = minuteOfDay(wall, timeZone);
  const length = wrapped(to - from);
  const gone = wrapped(minute - from);
  return gone < length ? (length - gone) * MINUTE - wall % MINUTE : 0;
}

/** Whether what has this priority is held back from a person now. */
export function holds(
  { quiet }: { readonly quiet?: QuietHours },
  priority: Priority,
  wall: Micros,
  timeZone: string,
): boolean {
  return quiet !== undefined && quiet.holds.includes(priority) &&
    quietFor(quiet, wall, timeZone) > 0;
}

function wrapped(minutes: number): number {
  return (minutes + DAY_MINUTES) % DAY_MINUTES;
}

function minuteOfDay(wall: Micros, timeZone: string): number {
  const text = new Intl.DateTimeFormat("en-GB", {
    timeZone,
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  }).format(wall / MILLISECOND);
  const [hours, minutes] = text.split(":").map(Number);
  return hours * 60 + minutes;
}
