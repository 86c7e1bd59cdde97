import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { FrameBatch } from "../bus/frame-batch.ts";
import { SECOND } from "../ground/time.ts";
import { MessageAssembler } from "./assembler.ts";
import { Columns } from "./columns.ts";
import { type DecodedField, decodeMessage, type FieldValue } from "./decode-message.ts";
import { encodeMessage, type WireValue } from "./encode.ts";
import { FrameWriter } from "./frame-writer.ts";
import { decodeGroups } from "./groups.ts";
import { FieldStatus } from "./read-field.ts";
import { reservedCodesOf } from "./reserved-codes.ts";
import type { Field, PgnRow } from "./row.ts";
import { bitsOf, endOf, isSigned } from "./shape.ts";
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
      const limit = Math.min(notAvailableFrom, outOfRangeFrom, 2 ** bitsOf(field));
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
      return reservedCodesOf(field, row.codes).notAvailableFrom === Infinity
        ? word
        : fc.option(word);
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

const valuesFor = (fields: readonly Field[], row: PgnRow) =>
  fc.record(Object.fromEntries(
    fields.filter((field) => field.kind !== "reserved")
      .map((field) => [field.name, valueFor(field, row)]),
  ));

const plain = fc.stringMatching(/^[!-~]+$/, { maxLength: 40, size: "max" });
/** Letters of the world, none of which needs two places of 16 bits. */
const foreign = fc.stringMatching(/^[\u00c0-\u024f\u0391-\u03a1\u0410-\u044f]+$/, {
  maxLength: 40,
});

/** Fields, groups and texts of a message, as many as fit its transport. */
function messageFor(row: PgnRow) {
  const { fields, tail } = row;
  const named = tail?.kind === "texts" ? tail.names : [];
  const counted = tail?.kind === "groups" ? tail.count : undefined;
  const most = row.transport === "iso-transport" ? 1785 : 223;
  return fc.record({
    own: valuesFor(fields.filter(({ name }) => name !== counted), row),
    texts: fc.record(
      Object.fromEntries(named.map((name) => [name, fc.option(fc.oneof(plain, foreign))])),
    ),
    groups: tail?.kind === "groups"
      ? fc.array(valuesFor(tail.fields, row), {
        maxLength: Math.floor((most - row.length) / tail.length),
      })
      : fc.constant([]),
  });
}

function expectSame(
  fields: readonly Field[],
  decoded: Record<string, DecodedField>,
  sent: Record<string, FieldValue>,
) {
  for (const field of fields) {
    if (field.kind === "reserved" || !(field.name in sent)) continue;
    const { status, value } = decoded[field.name];
    const wanted = sent[field.name];
    if (wanted === null) {
      expect({ status, value }).toEqual({ status: FieldStatus.notAvailable, value: null });
    } else if (typeof wanted === "number" && typeof value === "number") {
      const half = field.kind === "number" ? field.resolution / 2 : 0;
      const noise = Math.abs(wanted) * 2 ** -50 + half * 1e-6;
      expect(Math.abs(value - wanted)).toBeLessThanOrEqual(half + noise);
      expect([FieldStatus.present, FieldStatus.implausible]).toContain(status);
    } else {
      expect({ status, value }).toEqual({ status: FieldStatus.present, value: wanted });
    }
  }
}

const rows = ALL_ROWS.map((row) => [row.pgn, row] as const);

describe.each(rows)("PGN %i", (_, row) => {
  test("comes back within half a resolution, and what is missing comes back missing", () => {
    fc.assert(fc.property(messageFor(row), ({ own, texts, groups }) => {
      const bytes = encodeMessage(row, { ...own, ...texts }, groups);
      const decoded = decode(row, bytes);
      expectSame(row.fields, decoded, own);
      for (const [name, text] of Object.entries(texts)) expect(decoded[name].value).toBe(text);
      const repeated = decodeGroups(columns, columns.rowOf(row.pgn), bytes, 0, bytes.length);
      expect(repeated).toHaveLength(groups.length);
      if (row.tail?.kind !== "groups") return;
      for (const [at, group] of groups.entries()) {
        expectSame(row.tail.fields, repeated[at], group);
      }
    }));
  });

  test("comes back through frames, as many as it needs", () => {
    const batch = new FrameBatch(300);
    const writer = new FrameWriter();
    fc.assert(
      fc.property(messageFor(row), ({ own, texts, groups }) => {
        batch.count = 0;
        const values = { ...own, ...texts };
        const bytes = encodeMessage(row, values, groups);
        const fits = row.transport !== "fast-packet" || bytes.length <= 223;
        const write = () =>
          writer.write(batch, row, values, { bus: 0, source: 7, time: SECOND }, groups);
        if (!fits) return expect(write).toThrow("a fast packet holds 223");
        expect(write()).toBe(true);
        const assembler = new MessageAssembler(columns);
        const messages = [];
        for (let i = 0; i < batch.count; i++) {
          if (!assembler.accept(batch, i, SECOND)) continue;
          const { pgn, start, length } = assembler;
          messages.push([pgn, ...assembler.bytes.subarray(start, start + length)]);
        }
        const padding = row.transport === "iso-transport" ? 8 - bytes.length : 0;
        const padded = [...bytes, ...Array(Math.max(0, padding)).fill(0xff)];
        expect(messages).toEqual([[row.pgn, ...padded]]);
      }),
      { numRuns: 25 },
    );
  });

  test("yields the fields that a short message has, and ignores longer bytes", () => {
    const bytes = new Uint8Array(row.length + 9);
    const number = columns.rowOf(row.pgn);
    for (let length = 0; length <= bytes.length; length++) {
      const there = row.fields.filter((field) =>
        field.kind !== "reserved" && endOf(field) <= length
      );
      expect(Object.keys(decodeMessage(columns, number, bytes, 0, length)))
        .toEqual(there.map((field) => field.name));
    }
  });
});

const numbers = ALL_ROWS.flatMap((row) => {
  const repeated = row.tail?.kind === "groups" ? row.tail.fields : [];
  return [...row.fields, ...repeated]
    .filter((field) => field.kind === "number" && field.width <= 53)
    .map((field) => [row.pgn, field.name, row, field] as const);
});

test.each(numbers)("PGN %i, %s: every reserved code is read for what it is", (...given) => {
  const [, name, row, field] = given;
  const statusOfRaw = (raw: number) => {
    const isOwn = row.fields.includes(field);
    const values = { [name]: { raw } };
    const bytes = encodeMessage(row, isOwn ? values : {}, isOwn ? [] : [values]);
    const groups = decodeGroups(columns, columns.rowOf(row.pgn), bytes, 0, bytes.length);
    return (isOwn ? decode(row, bytes) : groups[0])[name].status;
  };
  const most = 2 ** (isSigned(field) ? field.width - 1 : field.width) - 1;
  // SAE J1939-71 has its codes in the highest byte, and one byte each.
  const step = row.codes === "j1939" ? 2 ** (field.width - 8) : 1;
  expect(statusOfRaw(most)).toBe(FieldStatus.notAvailable);
  expect(statusOfRaw(most - step + 1)).toBe(FieldStatus.notAvailable);
  const reserved = row.codes === "j1939" ? 4 : 2;
  for (let code = 1; code <= reserved; code++) {
    expect(statusOfRaw(most - code * step)).toBe(FieldStatus.outOfRange);
  }
  expect(statusOfRaw(most - reserved * step - step)).not.toBe(FieldStatus.outOfRange);
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
