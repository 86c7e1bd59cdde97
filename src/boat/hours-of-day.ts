/** Hours of the boat's own clock, in minutes after midnight; `to` may be on the next day. */
export interface HoursOfDay {
  readonly from: number;
  readonly to: number;
}

const NAME = /^boat\/from-(\d\d)-(\d\d)-to-(\d\d)-(\d\d)$/;
const DAY_MINUTES = 24 * 60;

/** The signal that is on in these hours: `boat/from-22-00-to-07-00`. */
export function nameOfHours({ from, to }: HoursOfDay): string {
  return `boat/from-${digits(from)}-to-${digits(to)}`;
}

/** The hours that a signal's name says; null for every other signal. */
export function hoursOfName(name: string): HoursOfDay | null {
  const parts = NAME.exec(name)?.slice(1).map(Number);
  if (parts === undefined) return null;
  const [fromHour, fromMinute, toHour, toMinute] = parts;
  return { from: fromHour * 60 + fromMinute, to: toHour * 60 + toMinute };
}

/** From `from` on and until just before `to`. */
export function isWithin({ from, to }: HoursOfDay, minute: number): boolean {
  return wrapped(minute - from) < wrapped(to - from);
}

/** How long until the clock next shows a minute; a whole day where it shows it now. */
export function minutesUntil(minute: number, now: number): number {
  return wrapped(minute - now) || DAY_MINUTES;
}

function wrapped(minutes: number): number {
  return (minutes + DAY_MINUTES) % DAY_MINUTES;
}

function digits(minute: number): string {
  return [Math.floor(minute / 60), minute % 60].map((part) => `${part}`.padStart(2, "0")).join("-");
}
