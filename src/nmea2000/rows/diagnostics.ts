import { SECOND } from "../../ground/time.ts";
import type { Field, PgnRow, Tail } from "../row.ts";
import { DIAGNOSTICS } from "./sources.ts";

/** How a part fails, by failure mode identifier. */
export const FAILURE_MODES: Readonly<Record<number, string>> = {
  0: "far-above-range",
  1: "far-below-range",
  2: "erratic-or-incorrect",
  3: "voltage-high",
  4: "voltage-low",
  5: "current-low-or-open-circuit",
  6: "current-high-or-grounded",
  7: "not-responding-or-out-of-adjustment",
  8: "abnormal-frequency",
  9: "abnormal-update-rate",
  10: "abnormal-rate-of-change",
  11: "cause-not-known",
  12: "bad-device",
  13: "out-of-calibration",
  14: "special-instructions",
  15: "slightly-above-range",
  16: "moderately-above-range",
  17: "slightly-below-range",
  18: "moderately-below-range",
  19: "network-data-in-error",
  20: "drifted-high",
  21: "drifted-low",
  31: "condition-exists",
};

/** Whether a lamp is lit (low two bits) and how it flashes (high two) make one word. */
const LAMP_WORDS: Readonly<Record<number, string>> = {
  0b0000: "off",
  0b0100: "off",
  0b1000: "off",
  0b1100: "off",
  0b0001: "slow-flash",
  0b0101: "fast-flash",
  0b1101: "on",
  0b1111: "not-supported",
};

function lamp(name: string, bit: number): Field {
  return {
    kind: "words",
    name,
    bit,
    width: 2,
    high: { bit: bit + 8, width: 2 },
    words: LAMP_WORDS,
  };
}

const LAMPS: readonly Field[] = [
  lamp("protect-lamp", 0),
  lamp("amber-warning-lamp", 2),
  lamp("red-stop-lamp", 4),
  lamp("malfunction-lamp", 6),
];

const TROUBLE_CODES: Tail = {
  kind: "groups",
  name: "trouble-code",
  length: 4,
  fields: [
    { kind: "index", name: "spn", bit: 0, width: 16, high: { bit: 21, width: 3 } },
    { kind: "words", name: "fmi", bit: 16, width: 5, words: FAILURE_MODES },
    { kind: "index", name: "occurrences", bit: 24, width: 7 },
    // Set: the suspect parameter number is laid out as before 1996 and cannot be told for certain.
    { kind: "words", name: "old-layout", bit: 31, width: 1, words: { 0: "no", 1: "yes" } },
  ],
};

const common = {
  transport: "iso-transport",
  codes: "j1939",
  length: 2,
  source: DIAGNOSTICS,
  fields: LAMPS,
  tail: TROUBLE_CODES,
} as const;

/** What an engine's computer finds wrong, now and before; in packets beyond one trouble code. */
export const DIAGNOSTIC_ROWS: readonly PgnRow[] = [
  { ...common, pgn: 65226, title: "active trouble codes (DM1)", period: SECOND },
  { ...common, pgn: 65227, title: "previously active trouble codes (DM2)", period: null },
];
