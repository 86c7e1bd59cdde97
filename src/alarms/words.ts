/** ANSI/ISA-18.2 (IEC 62682) states A to F; its last three are `Hold`. */
export const ALARM_STATES = [
  "normal",
  "unacknowledged",
  "acknowledged",
  "returned-unacknowledged",
  "latched-unacknowledged",
  "latched-acknowledged",
] as const;
export type AlarmStateName = (typeof ALARM_STATES)[number];

/** ISA-18.2 states G to I, kept beside the state. */
export const HOLDS = ["none", "shelved", "suppressed-by-design", "out-of-service"] as const;
export type Hold = (typeof HOLDS)[number];

/** IMO resolution MSC.302(87), highest first. */
export const PRIORITIES = ["emergency-alarm", "alarm", "warning", "caution"] as const;
export type Priority = (typeof PRIORITIES)[number];
