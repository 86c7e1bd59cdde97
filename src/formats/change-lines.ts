import type { AlarmChange } from "../alarms/change.ts";
import { isoTime } from "../ground/time.ts";

/**
 * One change as an object with the fields of `event` in their order (contract §4), without `epoch`
 * and `number`.
 * @param decimals six in files and exports, three on MQTT
 */
export function changeFields(change: AlarmChange, decimals: 3 | 6) {
  return {
    tag: change.tag,
    subject: change.subject,
    occurrence: change.occurrence,
    from: change.from,
    to: change.to,
    hold: change.hold,
    priority: change.priority,
    signal: change.signal,
    value: change.value,
    unit: change.unit,
    setpoint: change.setpoint,
    time: isoTime(change.time, decimals),
    why: change.why,
    by: change.by,
  };
}

/** JSON Lines: what `rehearse --json` and `run --json` print, byte for byte. */
export function changeLine(change: AlarmChange): string {
  return JSON.stringify(changeFields(change, 6));
}
