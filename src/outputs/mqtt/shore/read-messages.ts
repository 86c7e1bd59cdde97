import { z } from "zod";
import type { AlarmChange, AlarmStatus } from "../../../alarms/change.ts";
import { ALARM_STATES, HOLDS, PRIORITIES } from "../../../alarms/words.ts";
import { QUALITY_WORDS, REASON_WORDS } from "../../../boat/quality.ts";
import { type Micros, parseIsoTime, SECOND } from "../../../ground/time.ts";
import { UNIT_CODES } from "../../../units/codes.ts";

z.config({ jitless: true });

// What a boat has written (contract §4), read on shore. What makes no sense is undefined.

const time = z.string().transform((text, context): Micros => {
  const read = parseIsoTime(text);
  if (read !== undefined) return read;
  context.addIssue({ code: "custom", message: "not a time" });
  return z.NEVER;
});
const value = z.union([z.number(), z.string(), z.null()]);
const unit = z.enum(UNIT_CODES);

const link = z.object({
  state: z.enum(["connected", "stopped", "lost"]),
  time: time.nullable(),
  interval: z.number().positive().max(86_400).transform((seconds): Micros => seconds * SECOND),
  epoch: z.string().optional(),
  number: z.int().min(0).optional(),
  history: z.int().min(0).optional(),
});
export type Link = z.output<typeof link>;

const event = z.object({
  epoch: z.string(),
  number: z.int().min(1),
  tag: z.string(),
  subject: z.string(),
  occurrence: z.int(),
  from: z.enum(ALARM_STATES),
  to: z.enum(ALARM_STATES),
  hold: z.enum(HOLDS),
  priority: z.enum(PRIORITIES),
  signal: z.string(),
  value,
  unit,
  setpoint: z.number().nullable(),
  time,
  why: z.string(),
  by: z.string(),
});
export interface NumberedChange {
  readonly epoch: string;
  readonly number: number;
  readonly change: AlarmChange;
}

const signal = z.object({
  value,
  unit,
  time,
  quality: z.enum(QUALITY_WORDS),
  reason: z.enum(REASON_WORDS).default(""),
});
export type SignalMessage = z.output<typeof signal>;

const status = z.object({
  title: z.string(),
  state: z.enum(ALARM_STATES),
  hold: z.enum(HOLDS),
  until: time.optional(),
  occurrence: z.int(),
  priority: z.enum(PRIORITIES),
  signal: z.string().default(""),
  value,
  unit,
  setpoint: z.number().nullable(),
  raised: time.nullable(),
  changed: time.nullable(),
  message: z.string(),
  consequence: z.string(),
  response: z.object({ aboard: z.string(), ashore: z.string() }),
});

const answer = z.object({
  accepted: z.boolean(),
  refused: z.string().optional(),
  from: z.int().optional(),
});
export type AnswerMessage = z.output<typeof answer>;

export function readLink(text: string): Link | undefined {
  return link.safeParse(parsed(text)).data;
}

export function readEvent(text: string): NumberedChange | undefined {
  const read = event.safeParse(parsed(text)).data;
  if (read === undefined) return undefined;
  const { epoch, number, ...change } = read;
  return { epoch, number, change };
}

export function readSignal(text: string): SignalMessage | undefined {
  return signal.safeParse(parsed(text)).data;
}

/** @param topic `alarm/TAG/SUBJECT` */
export function readStatus(topic: string, text: string): AlarmStatus | undefined {
  const [, tag, subject] = topic.split("/");
  const read = status.safeParse(parsed(text)).data;
  if (read === undefined || subject === undefined) return undefined;
  const { until, ...about } = read;
  return { ...about, ...(until === undefined ? {} : { heldUntil: until }), tag, subject };
}

export function readAnswer(text: string): AnswerMessage | undefined {
  return answer.safeParse(parsed(text)).data;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
