import type { AlarmStatus } from "../../alarms/change.ts";
import { isoTime, type Micros } from "../../ground/time.ts";
import type { AlarmEvent } from "../../store/store.ts";

export function alarmTopic(alarm: { readonly tag: string; readonly subject: string }): string {
  return `alarm/${alarm.tag}/${alarm.subject}`;
}

/** One alarm as it stands. */
export function alarmPayload(alarm: AlarmStatus): string {
  const { title, state, hold, occurrence, priority, value, unit, setpoint } = alarm;
  return JSON.stringify({
    title,
    state,
    hold,
    // Left out where nobody has put it aside.
    until: alarm.heldUntil === undefined ? undefined : isoTime(alarm.heldUntil, 3),
    occurrence,
    priority,
    value,
    unit,
    setpoint,
    raised: timeOrNull(alarm.raised),
    changed: timeOrNull(alarm.changed),
    message: alarm.message,
    consequence: alarm.consequence,
    response: alarm.response,
  });
}

/** One change of one alarm; `epoch` and `number` together never repeat. */
export function eventPayload(epoch: string, { number, change }: AlarmEvent): string {
  const { tag, subject, occurrence, from, to, hold, priority, signal } = change;
  const { value, unit, setpoint, time, why, by } = change;
  return JSON.stringify({
    epoch,
    number,
    tag,
    subject,
    occurrence,
    from,
    to,
    hold,
    priority,
    signal,
    value,
    unit,
    setpoint,
    time: isoTime(time, 3),
    why,
    by,
  });
}

function timeOrNull(time: Micros | null): string | null {
  return time === null ? null : isoTime(time, 3);
}
