import { z } from "zod";
import { UNIT_CODES } from "../units/codes.ts";
import { ALARM_STATES } from "./words.ts";

z.config({ jitless: true });

/** Microseconds that are left of something; null when it does not run. */
const left = z.int().min(0).nullable();

/**
 * One alarm as plain JSON. Of whatever runs only what is left of it is kept, never a deadline: a
 * computer may start in 1970. What an alarm was about when it last changed stands in `told`.
 */
export const alarmRecordSchema = z.strictObject({
  tag: z.string(),
  subject: z.string(),
  state: z.enum(ALARM_STATES),
  occurrence: z.int().min(0),
  /** Of the on-delay or off-delay. */
  left,
  /** Until it rises to an alarm, or asks again. */
  patience: left.default(null),
  risen: z.boolean().default(false),
  hold: z.strictObject({
    kind: z.enum(["shelved", "out-of-service"]),
    left: z.int().min(0),
    who: z.string(),
  }).nullable().default(null),
  /** What its measure has gathered, in ages; null where there is nothing. */
  measure: z.record(z.string(), z.array(z.number())).nullable().default(null),
  told: z.strictObject({
    raised: z.int().nullable(),
    changed: z.int(),
    signal: z.string(),
    value: z.union([z.number(), z.string()]).nullable(),
    unit: z.enum(UNIT_CODES),
    setpoint: z.number().nullable(),
    message: z.string(),
    sounded: z.int().nullable().default(null),
  }).nullable(),
});

export type AlarmRecord = z.output<typeof alarmRecordSchema>;
