import { describe, expect, test } from "vitest";
import { Columns } from "../../src/nmea2000/columns.ts";
import { decodeMessage } from "../../src/nmea2000/decode-message.ts";
import { FieldStatus, readRaw, statusOf } from "../../src/nmea2000/read-field.ts";
import { reservedWordOf } from "../../src/nmea2000/reserved-codes.ts";
import type { Field } from "../../src/nmea2000/row.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import { DIAGNOSTIC_ROWS, FAILURE_MODES } from "../../src/nmea2000/rows/diagnostics.ts";
import { SUSPECT_PARAMETERS } from "../../src/nmea2000/suspect-parameters.ts";
import { troubleCodesOf } from "../../src/nmea2000/trouble-codes.ts";

const columns = new Columns(ALL_ROWS);

function bytesOf(hex: string): Uint8Array {
  return Uint8Array.from(hex.split(" "), (byte) => parseInt(byte, 16));
}

function decode(pgn: number, hex: string) {
  const bytes = bytesOf(hex);
  return decodeMessage(columns, columns.rowOf(pgn), bytes, 0, bytes.length);
}

const { present, notAvailable, outOfRange } = FieldStatus;

// The test suite of the MIT-licensed "j1939-84" project, src-test/…/j1939/packets.
describe("worked decodes of a published test suite come out the same", () => {
  test("engine controller 1: speed and torques", () => {
    const { speed, torque, "torque-demand": demand } = decode(61444, "11 22 33 60 09 66 77 88");
    expect([speed.value, demand.value, torque.value]).toEqual([300, -91, -74]);
  });

  test.each([
    ["FF FA", present, 8031.875],
    ["00 00", present, 0],
    ["FF FE", outOfRange, null],
    ["FF FF", notAvailable, null],
  ])("engine speed of %s", (bytes, status, value) => {
    expect(decode(61444, `11 22 33 ${bytes} 66 77 88`).speed).toEqual({ status, value });
  });

  test.each([
    ["FE 05 00 00", present, 76.7],
    ["FF FF FF FA", present, 210_554_060.75],
    ["FF FF FF FF", notAvailable, null],
  ])("engine hours of %s", (bytes, status, value) => {
    const { hours } = decode(65253, `${bytes} 00 00 00 00`);
    expect(hours.status).toBe(status);
    if (value === null) expect(hours.value).toBeNull();
    else expect(hours.value).toBeCloseTo(value, 6);
  });
});

describe("slots, from the same suite", () => {
  const slot = (bit: number, width: number, resolution: number): Field => (
    { kind: "number", name: "slot", bit, width, resolution, unit: "Pa" }
  );

  test.each([
    ["A5", present, 1_320_000, null],
    ["FF", notAvailable, null, "not-available"],
    ["FE", outOfRange, null, "error"],
    ["FB", outOfRange, null, "parameter-specific"],
  ])("8 kPa a bit: %s", (hex, status, value, word) => {
    const fields = [slot(0, 8, 8000)];
    const own = new Columns([{ ...DIAGNOSTIC_ROWS[0], tail: undefined, length: 1, fields }]);
    const bytes = bytesOf(hex);
    expect(decodeMessage(own, 0, bytes, 0, 1).slot).toEqual({ status, value });
    expect(reservedWordOf(fields[0], "j1939", bytes[0])).toBe(word);
  });

  test("the low ten bits at 0.1 %: 5A A5 is 34.6, FF 03 is not available", () => {
    const fields = [slot(0, 10, 0.1)];
    const own = new Columns([{ ...DIAGNOSTIC_ROWS[0], tail: undefined, length: 2, fields }]);
    expect(decodeMessage(own, 0, bytesOf("5A A5"), 0, 2).slot.value).toBeCloseTo(34.6, 9);
    expect(statusOf(own, 0, readRaw(own, 0, bytesOf("FF 03"), 0))).toBe(notAvailable);
  });
});

describe("trouble codes, from the same suite", () => {
  const codesIn = (hex: string) => {
    const bytes = bytesOf(hex);
    return troubleCodesOf(columns, columns.rowOf(65226), bytes, 0, bytes.length);
  };

  test.each([
    ["61 02 13 81", 609, 19, 1, true],
    ["21 06 1F 23", 1569, 31, 35, false],
    ["EE 10 04 00", 4334, 4, 0, false],
    ["FF FF E0 00", 524287, 0, 0, false],
    ["00 00 00 80", 0, 0, 0, true],
  ])("%s", (hex, spn, fmi, occurrences, oldLayout) => {
    expect(codesIn(`00 FF ${hex}`)).toEqual([{ spn, fmi, occurrences, oldLayout }]);
  });

  test("a count of 127 stands for no count", () => {
    expect(codesIn("00 FF 00 00 00 7F")).toMatchObject([{ spn: 0, occurrences: null }]);
    const occurrences = columns.groupFieldOf(columns.rowOf(65226), "occurrences");
    expect(readRaw(columns, occurrences, bytesOf("00 00 00 7F"), 0)).toBe(127);
  });

  const message = "11 CD 61 02 13 00 21 06 1F 00 EE 10 04 00";

  test("a whole message: lamps in words, and three codes", () => {
    const lamps = decode(65226, message);
    expect(Object.entries(lamps).map(([name, { value }]) => [name, value])).toEqual([
      ["protect-lamp", "fast-flash"],
      ["amber-warning-lamp", "off"],
      ["red-stop-lamp", "slow-flash"],
      ["malfunction-lamp", "off"],
    ]);
    expect(codesIn(message).map(({ spn, fmi }) => [spn, fmi]))
      .toEqual([[609, 19], [1569, 31], [4334, 4]]);
    expect(
      codesIn(message).map(({ spn, fmi }) => [SUSPECT_PARAMETERS.get(spn), FAILURE_MODES[fmi]]),
    )
      .toEqual([
        ["second controller", "network-data-in-error"],
        ["engine protection, less torque", "condition-exists"],
        ["exhaust fluid, dosing pressure", "voltage-low"],
      ]);
  });

  // Lit and flashing, two bits each; the pair (0, 0) is what some send for "off".
  test.each([
    [0b01, 0b11, "on"],
    [0b01, 0b00, "slow-flash"],
    [0b01, 0b01, "fast-flash"],
    [0b00, 0b01, "off"],
    [0b00, 0b10, "off"],
    [0b00, 0b11, "off"],
    [0b00, 0b00, "off"],
    [0b11, 0b11, "not-supported"],
  ])("a lamp that is lit %i and flashes %i is %s", (lit, flash, word) => {
    const hex = [lit << 6, flash << 6].map((byte) => byte.toString(16)).join(" ");
    expect(decode(65226, hex)["malfunction-lamp"]).toEqual({ status: present, value: word });
  });

  test("real trucks say that all is well with zeros", () => {
    const nothing = "00 FF 00 00 00 00 FF FF";
    expect(codesIn(nothing)).toEqual([]);
    expect(decode(65226, nothing)["red-stop-lamp"].value).toBe("off");
  });

  // pretty_j1939 (Apache-2.0), tests: 18FECA00#40FF5B000301FFFF
  test("a single frame from another public test: one code, the malfunction lamp lit", () => {
    const frame = "40 FF 5B 00 03 01 FF FF";
    expect(codesIn(frame)).toEqual([{ spn: 91, fmi: 3, occurrences: 1, oldLayout: false }]);
    expect(decode(65226, frame)["malfunction-lamp"].value).toBe("on");
  });

  test("what was wrong before is read alike", () => {
    const bytes = bytesOf(message);
    expect(troubleCodesOf(columns, columns.rowOf(65227), bytes, 0, bytes.length)).toHaveLength(3);
  });

  test("a row without trouble codes has none", () => {
    expect(troubleCodesOf(columns, columns.rowOf(127488), new Uint8Array(8), 0, 8)).toEqual([]);
  });
});
