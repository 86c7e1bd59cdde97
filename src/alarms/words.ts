/** ANSI/ISA-18.2 (IEC 62682) states A to F; its last three are `Hold`. */
export type AlarmStateName =
  | "normal"
  | "unacknowledged"
  | "acknowledged"
  | "returned-unacknowledged"
  | "latched-unacknowledged"
  | "latched-acknowledged";

/** ISA-18.2 states G to I, kept beside the state. */
export type Hold = "none" | "shelved" | "suppressed-by-design" | "out-of-service";

/** IMO resolution MSC.302(87), highest first. */
export type Priority = "emergency-alarm" | "alarm" | "warning" | "caution";

export const PRIORITIES: readonly Priority[] = ["emergency-alarm", "alarm", "warning", "caution"];
