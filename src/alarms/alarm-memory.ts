import { z } from "zod";
import { type Micros, MINUTE } from "../ground/time.ts";
import { UNIT_CODES, type UnitCode } from "../units/codes.ts";
import { type Delay, IDLE } from "./life-cycle/delay.ts";
import { type AlarmState, delayOf, NEVER_RAISED } from "./life-cycle/life-cycle.ts";

z.config({ jitless: true });

/** What an alarm last told, kept so that a restart forgets nothing. Times are wall times. */
export interface Told {
  readonly raised: Micros;
  readonly changed: Micros;
  readonly signal: string;
  readonly value: number | string | null;
  readonly unit: UnitCode;
  readonly setpoint: number | null;
  readonly message: string;
}

/**
 * One alarm as plain JSON. Of a running delay only what is left of it is kept, never a deadline: a
 * computer may start in 1970. What an alarm was about when it last changed stands in `told`.
 */
export const alarmRecordSchema = z.strictObject({
  tag: z.string(),
  subject: z.string(),
  state: z.enum(["normal", "unacknowledged", "acknowledged", "returned-unacknowledged"]),
  occurrence: z.int().min(0),
  /** Microseconds left of the on-delay or off-delay; null when none runs. */
  left: z.int().min(0).nullable(),
  told: z.strictObject({
    raised: z.int(),
    changed: z.int(),
    signal: z.string(),
    value: z.union([z.number(), z.string()]).nullable(),
    unit: z.enum(UNIT_CODES),
    setpoint: z.number().nullable(),
    message: z.string(),
  }).nullable(),
});

export type AlarmRecord = z.output<typeof alarmRecordSchema>;

export function recordOf(
  { tag, subject }: { readonly tag: string; readonly subject: string },
  state: AlarmState,
  told: Told | null,
  now: Micros,
): AlarmRecord {
  return {
    tag,
    subject,
    state: state.name,
    occurrence: state.occurrence,
    left: leftOf(delayOf(state), now),
    told: told === null ? null : { ...told },
  };
}

/** The state that a record keeps; a delay that ran stands still until `begin`. */
export function stateOf(record: AlarmRecord): AlarmState {
  const { occurrence, left } = record;
  const delay: Delay = left === null ? IDLE : { kind: "frozen", left, resets: Infinity };
  switch (record.state) {
    case "normal":
    case "returned-unacknowledged":
      return { name: record.state, occurrence, raising: delay };
    case "unacknowledged":
    case "acknowledged":
      return { name: record.state, occurrence, returning: delay };
  }
}

/**
 * The state when listening begins: a delay from before the restart goes on where it stood if what
 * it waits for is known within a minute.
 */
export function begin(state: AlarmState, now: Micros): AlarmState {
  const delay = delayOf(state);
  if (delay.kind !== "frozen" || delay.resets !== Infinity) return state;
  const waiting: Delay = { ...delay, resets: now + MINUTE };
  return "raising" in state ? { ...state, raising: waiting } : { ...state, returning: waiting };
}

/** Whether there is anything to keep. */
export function isWorthKeeping(state: AlarmState): boolean {
  return state.name !== "normal" || state.occurrence !== NEVER_RAISED.occurrence ||
    state.raising.kind !== "idle";
}

function leftOf(delay: Delay, now: Micros): Micros | null {
  if (delay.kind === "running") return Math.max(0, delay.due - now);
  return delay.kind === "frozen" ? delay.left : null;
}
