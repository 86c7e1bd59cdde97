import { describe, expect, test } from "vitest";
import { Columns } from "../../src/nmea2000/columns.ts";
import { decodeMessage } from "../../src/nmea2000/decode-message.ts";
import { FieldStatus } from "../../src/nmea2000/read-field.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";

const columns = new Columns(ALL_ROWS);

function decode(pgn: number, hex: string) {
  const bytes = Uint8Array.from(hex.split(" "), (byte) => parseInt(byte, 16));
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
