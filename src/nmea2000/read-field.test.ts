import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Columns } from "./columns.ts";
import { decodeMessage } from "./decode-message.ts";
import { FieldStatus, readRaw, statusOf } from "./read-field.ts";
import type { Field, PgnRow } from "./row.ts";
import { writeBits } from "./write-bits.ts";

function columnsOf(fields: readonly Field[], codes: PgnRow["codes"] = "nmea2000"): Columns {
  const row = { pgn: 1, title: "", transport: "single", period: null, length: 8, source: "" };
  return new Columns([{ ...row, transport: "single", codes, fields }]);
}

function numberField(bit: number, width: number, signed = false): Field {
  return { kind: "number", name: "value", bit, width, signed, resolution: 1, unit: "1" };
}

describe("a field", () => {
  const place = fc.record({
    start: fc.nat(5),
    bit: fc.nat(40),
    width: fc.oneof(fc.integer({ min: 1, max: 52 }), fc.constantFrom(8, 16, 24, 32)),
    signed: fc.boolean(),
  });

  test("is read wherever it lies, without a look at the bits beside it", () => {
    const field = place.chain((given) => {
      const { width, signed } = given;
      const [least, most] = signed
        ? [-(2 ** (width - 1)), 2 ** (width - 1) - 1]
        : [0, 2 ** width - 1];
      return fc.record({
        given: fc.constant(given),
        raw: fc.maxSafeInteger().map((number) =>
          least + ((number % (most - least + 1)) + (most - least + 1)) % (most - least + 1)
        ),
        noise: fc.nat(255),
      });
    });
    fc.assert(fc.property(field, ({ given: { start, bit, width, signed }, raw, noise }) => {
      const columns = columnsOf([numberField(bit, width, signed)]);
      // The field's last byte is the buffer's last: nothing may be read beyond it.
      const bytes = new Uint8Array(start + columns.end[0]).fill(noise);
      writeBits(bytes, start * 8 + bit, width, raw);
      expect(readRaw(columns, 0, bytes, start)).toBe(raw);
    }));
  });

  test("of 64 bits is read to the precision of a number", () => {
    const bytes = new Uint8Array(8);
    const view = new DataView(bytes.buffer);
    const wide = columnsOf([numberField(0, 64)]);
    const signed = columnsOf([numberField(0, 64, true)]);
    fc.assert(fc.property(fc.bigInt({ min: -(2n ** 63n), max: 2n ** 63n - 1n }), (value) => {
      view.setBigInt64(0, value, true);
      expect(readRaw(signed, 0, bytes, 0)).toBeCloseTo(Number(value), -11);
      expect(readRaw(wide, 0, bytes, 0)).toBeCloseTo(Number(BigInt.asUintN(64, value)), -11);
    }));
    view.setBigInt64(0, 2n ** 63n - 1n, true);
    expect(statusOf(signed, 0, readRaw(signed, 0, bytes, 0))).toBe(FieldStatus.notAvailable);
    view.setBigInt64(0, -2n, true);
    expect(readRaw(signed, 0, bytes, 0)).toBe(-2);
  });
});

const { present, notAvailable, outOfRange } = FieldStatus;

describe("reserved codes", () => {
  test.each([
    [1, 1, present],
    [2, 3, notAvailable],
    [2, 2, outOfRange],
    [2, 1, present],
    [3, 7, notAvailable],
    [3, 6, outOfRange],
    [3, 5, present],
    [4, 13, outOfRange],
    [4, 12, present],
    [8, 0xff, notAvailable],
    [8, 0xfe, outOfRange],
    [8, 0xfd, outOfRange],
    [8, 0xfc, present],
  ])("of NMEA 2000, %i bits: %i", (width, raw, status) => {
    expect(statusOf(columnsOf([numberField(0, width)]), 0, raw)).toBe(status);
  });

  // SAE J1939-71, transmitted signal ranges: valid up to FA, FAFF, FAFFFFFF.
  test.each([
    [2, 3, notAvailable],
    [2, 2, outOfRange],
    [8, 0xff, notAvailable],
    [8, 0xfe, outOfRange],
    [8, 0xfb, outOfRange],
    [8, 0xfa, present],
    [10, 0x3ff, notAvailable],
    [10, 0x3fe, outOfRange],
    [16, 0xff00, notAvailable],
    [16, 0xfeff, outOfRange],
    [16, 0xfb00, outOfRange],
    [16, 0xfaff, present],
    [32, 0xff000000, notAvailable],
    [32, 0xfe000000, outOfRange],
    [32, 0xfaffffff, present],
  ])("of J1939, %i bits: %i", (width, raw, status) => {
    expect(statusOf(columnsOf([numberField(0, width)], "j1939"), 0, raw)).toBe(status);
  });

  test("of a signed field are at the top of its range, and its lowest value is a value", () => {
    const columns = columnsOf([numberField(0, 8, true)]);
    expect([127, 126, 125, 124, -1, -128].map((raw) => statusOf(columns, 0, raw)))
      .toEqual([notAvailable, outOfRange, outOfRange, present, present, present]);
  });

  test("leave a word its code: only all ones and codes without a word say nothing", () => {
    const words = { 0: "off", 1: "on", 2: "blinking" };
    const columns = columnsOf([{ kind: "words", name: "lamp", bit: 0, width: 3, words }]);
    expect([0, 2, 3, 6, 7].map((raw) => statusOf(columns, 0, raw)))
      .toEqual([present, present, outOfRange, outOfRange, notAvailable]);
  });

  test("make a status word of all ones not available, not so many alarms", () => {
    const field: Field = { kind: "bits", name: "status", bit: 0, width: 8, bits: ["a", null, "b"] };
    const decode = (byte: number) =>
      decodeMessage(columnsOf([field]), 0, Uint8Array.of(byte), 0, 1).status;
    expect(decode(0xff)).toEqual({ status: notAvailable, value: null });
    expect(decode(0xfe)).toEqual({ status: present, value: ["b"] });
    expect(decode(0)).toEqual({ status: present, value: [] });
  });
});

describe("a text", () => {
  const decode = (...bytes: number[]) => {
    const field: Field = { kind: "text", name: "model", bit: 0, width: 64 };
    return decodeMessage(columnsOf([field]), 0, Uint8Array.from(bytes), 0, 8).model.value;
  };

  test.each([
    ["ones", [0x41, 0x42, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff], "AB"],
    ["zeros", [0x41, 0x42, 0, 0x43, 0, 0, 0, 0], "AB"],
    ["spaces", [0x41, 0x20, 0x42, 0x20, 0x20, 0x20, 0x20, 0x20], "A B"],
    ["nothing, when it is full", [0x41, 0x42, 0x43, 0x44, 0x45, 0x46, 0x47, 0x48], "ABCDEFGH"],
  ])("is padded with %s", (_, bytes, text) => expect(decode(...bytes)).toBe(text));

  test("of padding alone is not available", () => {
    expect(decode(0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff)).toBeNull();
    expect(decode(0x20, 0, 0, 0, 0, 0, 0, 0)).toBeNull();
  });

  test("shows a byte that is no letter as the sign for that", () => {
    expect(decode(0x41, 0x1b, 0xe9, 0x42, 0, 0, 0, 0)).toBe("A\ufffd\ufffdB");
  });
});
