import { validateCronExpression } from "cron";
import { z } from "zod";

z.config({ jitless: true });

// Times that come again. They are kept as cron texts of five fields, by the boat's own clock.

const DAYS = ["sun", "mon", "tue", "wed", "thu", "fri", "sat"];
const WEEKLY = 'a day and a time, such as "Mon 10:00", or a cron text of five fields';

/** `Mon 10:00`, or a cron text for who wants something else. */
export const weekly = z.string({ error: WEEKLY }).transform((written, context) => {
  const [, day = "", clock = ""] = /^\s*([A-Za-z]{3})[a-z]*\s+(\S+)\s*$/.exec(written) ?? [];
  const minutes = minutesOf(clock);
  const weekday = DAYS.indexOf(day.toLowerCase());
  if (weekday >= 0 && minutes !== undefined) {
    return `${minutes % 60} ${Math.floor(minutes / 60)} * * ${weekday}`;
  }
  const isCron = written.trim().split(/\s+/).length === 5 && validateCronExpression(written).valid;
  if (isCron) return written.trim();
  context.addIssue({ code: "custom", message: WEEKLY });
  return z.NEVER;
});

const CLOCK = 'a time of the day, such as "07:00"';

/** `07:00` as minutes after midnight. */
export const clockTime = z.string({ error: CLOCK }).transform((written, context) => {
  const minutes = minutesOf(written);
  if (minutes !== undefined) return minutes;
  context.addIssue({ code: "custom", message: CLOCK });
  return z.NEVER;
});

/** `07:00`, every day. */
export const daily = clockTime.transform((minutes) =>
  `${minutes % 60} ${Math.floor(minutes / 60)} * * *`
);

function minutesOf(clock: string): number | undefined {
  const [, hours, minutes] = /^([01]?\d|2[0-3]):([0-5]\d)$/.exec(clock.trim()) ?? [];
  return hours === undefined ? undefined : Number(hours) * 60 + Number(minutes);
}
