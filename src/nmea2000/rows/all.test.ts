import { describe, expect, test } from "vitest";
import { Columns } from "../columns.ts";
import { isAddressed } from "../identifier.ts";
import { ALL_ROWS } from "./all.ts";

const NAME = /^[a-z][a-z0-9]*(-[a-z0-9]+)*$/;
const rows = ALL_ROWS.map((row) => [`${row.pgn}, ${row.title}`, row] as const);

test("every PGN has one row", () => {
  expect(() => new Columns(ALL_ROWS)).not.toThrow();
});

describe.each(rows)("the row of %s", (_, row) => {
  test("fills its message with fields, without a gap or an overlap", () => {
    const ends = row.fields.map((field) => field.bit + field.width);
    expect(row.fields.map((field) => field.bit)).toEqual([0, ...ends.slice(0, -1)]);
    expect(ends.at(-1)).toBe(row.length * 8);
  });

  test("names its fields, words and bits once each, in lower case with hyphens", () => {
    const lists = row.fields.map((field) => {
      if (field.kind === "words") return Object.values(field.words);
      return field.kind === "bits" ? field.bits.filter((bit) => bit !== null) : [];
    });
    const named = row.fields.filter((field) => field.kind !== "reserved");
    for (const list of [named.map((field) => field.name), ...lists]) {
      for (const name of list) expect(name).toMatch(NAME);
      expect(new Set(list).size).toBe(list.length);
    }
  });

  test("gives no word to a code that means not available, and no more bits than there are", () => {
    for (const field of row.fields) {
      if (field.kind === "words" && field.width > 1) {
        for (const code of Object.keys(field.words)) {
          expect(Number(code)).toBeLessThan(2 ** field.width - 1);
        }
      }
      if (field.kind === "bits") expect(field.bits.length).toBeLessThanOrEqual(field.width);
    }
  });

  test("fits its transport, has its text on whole bytes, and says where it comes from", () => {
    const most = { "single": 8, "fast-packet": 223, "iso-transport": 1785 }[row.transport];
    expect(row.length).toBeLessThanOrEqual(most);
    for (const field of row.fields) {
      if (field.kind === "text") expect([field.bit % 8, field.width % 8]).toEqual([0, 0]);
    }
    if (isAddressed(row.pgn)) expect(row.pgn & 0xff).toBe(0);
    expect(row.source).not.toBe("");
    expect(row.period ?? 1).toBeGreaterThan(0);
  });
});
