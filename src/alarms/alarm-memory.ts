import { type Micros, MINUTE } from "../ground/time.ts";
import type { UnitCode } from "../units/codes.ts";
import type { AlarmRecord } from "./alarm-record.ts";
import {
  type AlarmLife,
  type AlarmState,
  delayOf,
  type HoldState,
  isRisen,
  isTimed,
  NO_HOLD,
  patienceOf,
} from "./life-cycle/alarm-life.ts";
import { type Delay, IDLE } from "./life-cycle/delay.ts";
import type { MeasureRecord } from "./measures/measure.ts";

/** What an alarm last told, kept so that a restart forgets nothing. Times are wall times. */
export interface Told {
  /** Null for one that was put aside and never raised. */
  readonly raised: Micros | null;
  readonly changed: Micros;
  readonly signal: string;
  readonly value: number | string | null;
  readonly unit: UnitCode;
  readonly setpoint: number | null;
  readonly message: string;
  /** The last raising that was told and asked for an answer; null for never. */
  readonly sounded: Micros | null;
}

export function recordOf(
  { tag, subject }: { readonly tag: string; readonly subject: string },
  { state, hold }: AlarmLife,
  measure: MeasureRecord | null,
  told: Told | null,
  now: Micros,
): AlarmRecord {
  return {
    tag,
    subject,
    state: state.name,
    occurrence: state.occurrence,
    left: leftOf(delayOf(state), now),
    patience: leftUntil(patienceOf(state), now),
    risen: isRisen(state),
    hold: isTimed(hold)
      ? { kind: hold.kind, left: Math.max(0, hold.until - now), who: hold.who }
      : null,
    measure: measure === null
      ? null
      : Object.fromEntries(Object.entries(measure).map(([name, ages]) => [name, [...ages]])),
    told: told === null ? null : { ...told },
  };
}

/**
 * The life that a record keeps, going on from `now`; Infinity while listening has not begun. A delay
 * goes on where it stood if what it waits for is known within a minute.
 */
export function lifeOf(record: AlarmRecord, now: Micros): AlarmLife {
  return { state: stateOf(record, now), hold: holdOf(record, now) };
}

function stateOf(record: AlarmRecord, now: Micros): AlarmState {
  const { state: name, occurrence, risen } = record;
  const delay: Delay = record.left === null
    ? IDLE
    : { kind: "frozen", left: record.left, resets: now + MINUTE };
  const patience = record.patience === null ? Infinity : now + record.patience;
  switch (name) {
    case "normal":
      return { name, occurrence, raising: delay };
    case "unacknowledged":
      return { name, occurrence, returning: delay, rises: patience, risen };
    case "acknowledged":
      return { name, occurrence, returning: delay, again: patience, risen };
    default:
      return { name, occurrence, raising: delay, risen };
  }
}

function holdOf({ hold }: AlarmRecord, now: Micros): HoldState {
  return hold === null ? NO_HOLD : { kind: hold.kind, until: now + hold.left, who: hold.who };
}

function leftOf(delay: Delay, now: Micros): Micros | null {
  if (delay.kind === "running") return Math.max(0, delay.due - now);
  return delay.kind === "frozen" ? delay.left : null;
}

function leftUntil(due: Micros, now: Micros): Micros | null {
  return due === Infinity ? null : Math.max(0, due - now);
}
