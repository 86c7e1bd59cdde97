/** What an analogue sender reads when its wiring is at fault. */
export interface SenderLimit {
  /** Values at or above this one are full scale. */
  readonly fullScale?: number;
  readonly atFullScale?: string;
  /** Values at or below this one are impossible while the engine runs. */
  readonly restWhileRunning?: number;
  readonly atRest?: string;
}

const OPEN = "Full scale: commonly an open wire to the sender.";
const SHORTED = "Zero while running: commonly a shorted wire, or no ground at the sender.";

/** By quantity, or group and quantity where that differs, in its signal's unit. All figures are common practice; gauges differ. */
export const SENDER_LIMITS: Readonly<Record<string, SenderLimit>> = {
  // 10 bar is the full scale of common oil pressure senders.
  "oil-pressure": {
    fullScale: 1_000_000,
    atFullScale: OPEN,
    restWhileRunning: 0,
    atRest: SHORTED,
  },
  // A gearbox runs at 18 to 25 bar, so 10 is no full scale there.
  "gearbox/oil-pressure": { restWhileRunning: 0, atRest: SHORTED },
  "coolant-temperature": {
    fullScale: 150,
    atFullScale: "Hot end of the scale: commonly a shorted wire to the sender.",
    restWhileRunning: -30,
    atRest: "Cold end of the scale while running: commonly an open wire to the sender.",
  },
  "alternator-voltage": {
    restWhileRunning: 0,
    atRest: "No volts while running: commonly the sense wire or its fuse.",
  },
  "fuel-rate": {
    restWhileRunning: 0,
    atRest: "No fuel while running: commonly no flow sender, or its wire.",
  },
  "level": {
    fullScale: 100.5,
    atFullScale:
      "More than full: commonly an open wire to the sender, or the wrong kind of sender is set.",
  },
};

/** Quantities that cannot stand still while the speed of their engine changes. */
export const FOLLOWS_SPEED: ReadonlySet<string> = new Set([
  "oil-pressure",
  "fuel-rate",
  "boost-pressure",
  "load",
  "torque",
]);
