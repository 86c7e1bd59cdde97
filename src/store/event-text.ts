import { z } from "zod";
import type { AlarmChange } from "../alarms/change.ts";
import { ALARM_STATES, HOLDS, PRIORITIES } from "../alarms/words.ts";
import { UNIT_CODES } from "../units/codes.ts";
import { type AlarmEvent, StoreError } from "./store.ts";
import type { EventText } from "./work.ts";

z.config({ jitless: true });

/** An event of the state folder, or a change that is kept elsewhere in it. */
export const alarmChangeSchema: z.ZodType<AlarmChange> = z.object({
  tag: z.string(),
  subject: z.string(),
  occurrence: z.number(),
  from: z.enum(ALARM_STATES),
  to: z.enum(ALARM_STATES),
  hold: z.enum(HOLDS),
  priority: z.enum(PRIORITIES),
  signal: z.string(),
  value: z.union([z.number(), z.string(), z.null()]),
  unit: z.enum(UNIT_CODES),
  setpoint: z.number().nullable(),
  time: z.number(),
  why: z.string(),
  by: z.string(),
});

export function writeEvent({ number, change }: AlarmEvent): EventText {
  return { number, text: JSON.stringify(change) };
}

/** @throws {StoreError} when the text is not one that `writeEvent` made. */
export function readEvent({ number, text }: EventText): AlarmEvent {
  try {
    return { number, change: alarmChangeSchema.parse(JSON.parse(text)) };
  } catch (cause) {
    throw new StoreError(`Event ${number} in the state folder is damaged.`, { cause });
  }
}
