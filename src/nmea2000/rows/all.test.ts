import { describe, expect, test } from "vitest";
import { Columns } from "../columns.ts";
import { isAddressed } from "../identifier.ts";
import { implausibleFrom, plausibleFrom } from "../plausible-range.ts";
import { reservedCodesOf } from "../reserved-codes.ts";
import type { Field, PgnRow, Place } from "../row.ts";
import { bitsOf } from "../shape.ts";
import { ALL_ROWS } from "./all.ts";

const NAME = /^[a-z][a-z0-9]*(-[a-z0-9]+)*$/;
const WORD = /^[a-z0-9]+(-[a-z0-9]+)*$/;
const rows = ALL_ROWS.map((row) => [`${row.pgn}, ${row.title}`, row] as const);

test("every PGN has one row", () => {
  expect(() => new Columns(ALL_ROWS)).not.toThrow();
});

/** The row's fields, and those that its tail repeats, with the bits that each list must fill. */
function listsOf(row: PgnRow): readonly (readonly [readonly Field[], number])[] {
  const own = [row.fields, row.length * 8] as const;
  return row.tail?.kind === "groups" ? [own, [row.tail.fields, row.tail.length * 8]] : [own];
}

function placesOf(field: Field): Place[] {
  return field.high === undefined ? [field] : [field, field.high];
}

const allFields = (row: PgnRow) => listsOf(row).flatMap(([fields]) => fields);

describe.each(rows)("the row of %s", (_, row) => {
  test("fills its message with fields, without a gap or an overlap", () => {
    for (const [fields, bits] of listsOf(row)) {
      const places = fields.flatMap(placesOf).toSorted((a, b) => a.bit - b.bit);
      const ends = places.map(({ bit, width }) => bit + width);
      expect(places.map(({ bit }) => bit)).toEqual([0, ...ends].slice(0, places.length));
      expect(ends.at(-1) ?? 0).toBe(bits);
    }
  });

  test("names its fields, words and bits in lower case with hyphens, and fields and bits once", () => {
    for (const [fields] of listsOf(row)) {
      const names = fields.filter(({ kind }) => kind !== "reserved").map(({ name }) => name);
      expect(new Set(names).size).toBe(names.length);
      for (const name of names) expect(name).toMatch(NAME);
    }
    for (const field of allFields(row)) {
      if (field.kind === "words") {
        for (const word of Object.values(field.words)) expect(word).toMatch(WORD);
      } else if (field.kind === "bits") {
        const bits = field.bits.filter((bit) => bit !== null);
        expect(new Set(bits).size).toBe(bits.length);
        for (const bit of bits) expect(bit).toMatch(NAME);
      }
    }
  });

  test("has no more words and bits than its fields have room for", () => {
    for (const field of allFields(row)) {
      if (field.kind === "words") {
        for (const code of Object.keys(field.words)) {
          expect(Number(code)).toBeLessThan(2 ** bitsOf(field));
        }
      }
      if (field.kind === "bits") expect(field.bits.length).toBeLessThanOrEqual(field.width);
    }
  });

  test("calls possible what its fields can say", () => {
    for (const field of allFields(row)) {
      if (field.kind !== "number" || field.plausible === undefined) continue;
      const { least = -Infinity, most = Infinity } = field.plausible;
      expect(least).toBeLessThan(most);
      expect(plausibleFrom(field)).toBeLessThan(implausibleFrom(field));
      expect(plausibleFrom(field)).toBeLessThan(reservedCodesOf(field, row.codes).outOfRangeFrom);
    }
  });

  test("fits its transport, has its text on whole bytes, and says where it comes from", () => {
    const most = { "single": 8, "fast-packet": 223, "iso-transport": 1785 }[row.transport];
    expect(row.length).toBeLessThanOrEqual(most);
    if (row.tail !== undefined) expect(row.transport).not.toBe("single");
    for (const field of row.fields) {
      if (field.kind === "text") expect([field.bit % 8, field.width % 8]).toEqual([0, 0]);
    }
    if (isAddressed(row.pgn)) expect(row.pgn & 0xff).toBe(0);
    expect(row.source).not.toBe("");
    expect(row.period ?? 1).toBeGreaterThan(0);
  });
});

const SINGLE: readonly number[] = [
  ...[59392, 59904, 60928, 126992, 126993, 127245, 127250, 127251, 127257, 127258, 127488, 127493],
  ...[127501, 127502, 127505, 127508, 127744, 127745, 127746, 127747, 127748, 127749, 127750],
  ...[127751, 128259, 128267, 129025, 129026, 129033, 129283, 130306, 130310, 130311, 130312],
  ...[130313, 130314, 130315, 130316],
];
const FAST: readonly number[] = [
  ...[126464, 126996, 126998, 127489, 127497, 127498, 127503, 127504, 127506, 127507, 127509],
  ...[127510, 127511, 127512, 127513, 127514, 128275, 129029, 129284],
];
/** EEC2, EEC1, HOURS, ET1, EFL/P1, LFE, AMB, IC1, VEP1, TRF1, DD1; then DM1 and DM2. */
const ENGINE: readonly number[] = [
  ...[61443, 61444, 65253, 65262, 65263, 65266, 65269, 65270, 65271, 65272, 65276],
];
const DIAGNOSTIC: readonly number[] = [65226, 65227];

test("the messages that a boat is expected to send have rows, each with its transport", () => {
  const sorted = (pgns: readonly number[]) => pgns.toSorted((a, b) => a - b);
  const rowsSent = (transport: PgnRow["transport"]) =>
    sorted(ALL_ROWS.filter((row) => row.transport === transport).map((row) => row.pgn));
  expect(rowsSent("single")).toEqual(sorted([...SINGLE, ...ENGINE]));
  expect(rowsSent("fast-packet")).toEqual(sorted(FAST));
  expect(rowsSent("iso-transport")).toEqual(DIAGNOSTIC);
});
