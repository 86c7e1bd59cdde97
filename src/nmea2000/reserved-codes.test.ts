import { expect, test } from "vitest";
import { reservedWordOf } from "./reserved-codes.ts";
import type { Field, PgnRow } from "./row.ts";

const numberOf = (width: number, signed = false): Field => ({
  kind: "number",
  name: "value",
  bit: 0,
  width,
  signed,
  resolution: 1,
  unit: "1",
});

// SAE J1939-71, transmitted signal ranges; NMEA 2000 from memory.
test.each<[PgnRow["codes"], number, boolean, number, string | null]>([
  ["j1939", 8, false, 0xff, "not-available"],
  ["j1939", 8, false, 0xfe, "error"],
  ["j1939", 8, false, 0xfd, "reserved"],
  ["j1939", 8, false, 0xfc, "reserved"],
  ["j1939", 8, false, 0xfb, "parameter-specific"],
  ["j1939", 8, false, 0xfa, null],
  ["j1939", 16, false, 0xfb12, "parameter-specific"],
  ["j1939", 32, false, 0xfe000000, "error"],
  ["j1939", 10, false, 0x3ff, "not-available"],
  ["j1939", 10, false, 0x3fe, "error"],
  ["j1939", 10, false, 0x3fd, null],
  ["nmea2000", 16, false, 0xffff, "not-available"],
  ["nmea2000", 16, false, 0xfffe, "out-of-range"],
  ["nmea2000", 16, false, 0xfffd, "reserved"],
  ["nmea2000", 16, true, 0x7fff, "not-available"],
  ["nmea2000", 16, true, 0x7ffe, "out-of-range"],
  ["nmea2000", 16, true, -1, null],
])("%s, %i bits, signed %s: %i says %s", (codes, width, signed, raw, word) => {
  expect(reservedWordOf(numberOf(width, signed), codes, raw)).toBe(word);
});
