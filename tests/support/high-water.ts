import type { AlarmChange } from "../../src/alarms/change.ts";

/** The aft float has lifted: the raising of an emergency alarm, and what is said otherwise of it. */
export function highWater(otherwise: Partial<AlarmChange> = {}): AlarmChange {
  return {
    tag: "bilge-high-water",
    subject: "aft",
    occurrence: 1,
    from: "normal",
    to: "unacknowledged",
    hold: "none",
    priority: "emergency-alarm",
    signal: "bilge/aft/float",
    value: 1,
    unit: "1",
    setpoint: null,
    time: 0,
    why: "Aft float was on for 5 s.",
    by: "",
    ...otherwise,
  };
}
