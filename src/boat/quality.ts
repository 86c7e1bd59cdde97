/** How far a signal can be believed (contract §3). Numbers, because they lie in typed arrays. */
export const Quality = { good: 0, uncertain: 1, bad: 2 } as const;
export type Quality = (typeof Quality)[keyof typeof Quality];

export const QUALITY_WORDS = ["good", "uncertain", "bad"] as const;

/** Why quality is not good. */
export const Reason = {
  none: 0,
  notAvailable: 1,
  outOfRange: 2,
  notHeard: 3,
  implausible: 4,
  twoSenders: 5,
  inferred: 6,
} as const;
export type Reason = (typeof Reason)[keyof typeof Reason];

export const REASON_WORDS = [
  "",
  "not-available",
  "out-of-range",
  "not-heard",
  "implausible",
  "two-senders",
  "inferred",
] as const;
