import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Columns } from "./columns.ts";
import { decodeMessage, type FieldValue } from "./decode-message.ts";
import { encodeMessage, type WireValue } from "./encode.ts";
import { FieldStatus } from "./read-field.ts";
import { reservedCodesOf } from "./reserved-codes.ts";
import type { Field, PgnRow } from "./row.ts";
import { isSigned } from "./shape.ts";
import { ALL_ROWS } from "./rows/all.ts";

const columns = new Columns(ALL_ROWS);
const rowOf = (pgn: number) => ALL_ROWS[columns.rowOf(pgn)];

function decode(row: PgnRow, bytes: Uint8Array) {
  return decodeMessage(columns, columns.rowOf(row.pgn), bytes, 0, bytes.length);
}

/** Any value that the field can say, "not available" included where it can say that. */
function valueFor(field: Field, row: PgnRow): fc.Arbitrary<FieldValue> {
  switch (field.kind) {
    case "number":
    case "index": {
      const { notAvailableFrom, outOfRangeFrom } = reservedCodesOf(field, row.codes);
      const limit = Math.min(notAvailableFrom, outOfRangeFrom, 2 ** field.width);
      // Of 64 bits a number has 53: the largest is not one less, but a good deal less.
      const most = field.width > 53 ? limit * (1 - 2 ** -52) : limit - 1;
      const least = isSigned(field) ? -(2 ** (field.width - 1)) : 0;
      const [resolution, offset] = field.kind === "number"
        ? [field.resolution, field.offset ?? 0]
        : [1, 0];
      const raw = field.kind === "number"
        ? fc.double({ min: least, max: most, noNaN: true })
        : fc.integer({ min: least, max: most });
      return fc.option(raw.map((number) => number * resolution + offset));
    }
    case "words": {
      const word = fc.constantFrom(...Object.values(field.words));
      return field.width === 1 ? word : fc.option(word);
    }
    case "bits": {
      const names = field.bits.filter((bit) => bit !== null);
      // All bits at once is the code for "not available".
      return fc.option(fc.subarray(names).filter((some) => some.length < field.width));
    }
    case "text":
      return fc.option(
        fc.stringMatching(/^[!-~]+$/, { maxLength: field.width / 8, size: "max" }),
      );
    default:
      return fc.constant(null);
  }
}

const valuesFor = (row: PgnRow) =>
  fc.record(Object.fromEntries(
    row.fields.filter((field) => field.kind !== "reserved")
      .map((field) => [field.name, valueFor(field, row)]),
  ));

const rows = ALL_ROWS.map((row) => [row.pgn, row] as const);

describe.each(rows)("PGN %i", (_, row) => {
  test("comes back within half a resolution, and what is missing comes back missing", () => {
    fc.assert(fc.property(valuesFor(row), (values) => {
      const decoded = decode(row, encodeMessage(row, values));
      for (const field of row.fields) {
        if (field.kind === "reserved") continue;
        const sent = values[field.name];
        const { status, value } = decoded[field.name];
        if (sent === null) {
          expect({ status, value }).toEqual({ status: FieldStatus.notAvailable, value: null });
        } else if (typeof sent === "number" && typeof value === "number") {
          const half = field.kind === "number" ? field.resolution / 2 : 0;
          const noise = Math.abs(sent) * 2 ** -50 + half * 1e-6;
          expect(Math.abs(value - sent)).toBeLessThanOrEqual(half + noise);
        } else {
          expect({ status, value }).toEqual({ status: FieldStatus.present, value: sent });
        }
      }
    }));
  });

  test("yields the fields that a short message has, and ignores longer bytes", () => {
    const bytes = new Uint8Array(row.length + 9);
    const number = columns.rowOf(row.pgn);
    for (let length = 0; length <= bytes.length; length++) {
      const there = row.fields.filter((field) =>
        field.kind !== "reserved" && field.bit + field.width <= length * 8
      );
      expect(Object.keys(decodeMessage(columns, number, bytes, 0, length)))
        .toEqual(there.map((field) => field.name));
    }
  });
});

const reservedCodes = ALL_ROWS.filter((row) => row.codes === "nmea2000").flatMap((row) =>
  row.fields.filter((field) => field.kind === "number" && field.width <= 53)
    .map((field) => [row.pgn, field.name, row, field] as const)
);

test.each(reservedCodes)("PGN %i, %s: every reserved code is read for what it is", (...given) => {
  const [, name, row, field] = given;
  const most = 2 ** (isSigned(field) ? field.width - 1 : field.width) - 1;
  const statusOfRaw = (raw: number) =>
    decode(row, encodeMessage(row, { [name]: { raw } }))[name].status;
  expect(statusOfRaw(most)).toBe(FieldStatus.notAvailable);
  expect(statusOfRaw(most - 1)).toBe(FieldStatus.outOfRange);
  expect(statusOfRaw(most - 2)).toBe(FieldStatus.outOfRange);
  expect(statusOfRaw(most - 3)).toBe(FieldStatus.present);
});

const statusBits = rowOf(127489).fields.flatMap((field) =>
  field.kind === "bits" && field.name === "status-1" ? field.bits : []
).filter((bit) => bit !== null);

describe("a value that a field cannot say is refused", () => {
  test.each<[number, Record<string, WireValue>, string]>([
    [127488, { speed: 20_000 }, "speed is 20000, expected a number from 0 to 16383"],
    [127488, { speed: -1 }, "speed is -1"],
    [127488, { speed: NaN }, "speed is null, expected a number"],
    [127488, { sped: 700 }, '"sped" is no field; did you mean "speed"?'],
    [127488, { instance: 255 }, "instance is 255"],
    [127507, { "operating-state": "absorbtion" }, 'did you mean "absorption"?'],
    [127507, { "operating-state": 2 }, "operating-state is 2, expected a word"],
    [127489, { "status-1": ["low-oil-presure"] }, 'did you mean "low-oil-pressure"?'],
    [127506, { "type": "batery" }, 'did you mean "battery"?'],
    [127489, { "status-1": statusBits }, "expected fewer than all bits"],
    [127489, { "status-1": "low-oil-pressure" }, "expected a list of bits"],
    [126996, { serial: "0123456789".repeat(4) }, "expected at most 32"],
    [126996, { serial: "größe" }, "not printable ASCII"],
    [60928, {}, 'arbitrary-address is one bit and cannot say "not available"'],
  ])("PGN %i, %o", (pgn, values, message) => {
    expect(() => encodeMessage(rowOf(pgn), values)).toThrow(message);
  });
});

test("a message of which nothing is known is ones, but for the signs", () => {
  expect([...encodeMessage(rowOf(127508), {})])
    .toEqual([0xff, 0xff, 0x7f, 0xff, 0x7f, 0xff, 0xff, 0xff]);
});
