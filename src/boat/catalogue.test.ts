import { describe, expect, test } from "vitest";
import { Columns } from "../nmea2000/columns.ts";
import { ALL_ROWS } from "../nmea2000/rows/all.ts";
import { CATALOGUE } from "./catalogue.ts";
import { MessageLayouts } from "./message-layouts.ts";
import { signalFacts } from "./naming.ts";

const columns = new Columns(ALL_ROWS);

describe("the catalogue", () => {
  const layouts = new MessageLayouts(CATALOGUE, columns);
  const facts = layouts.entries.flatMap(({ by, group, keys, only }, layout) => {
    const name = keys.length === 0 && by === undefined ? only ?? "" : "0";
    return layouts.slots[layout].map((slot) => signalFacts(slot, { group, name, described: null }));
  });

  test("has a row for each of its messages, and a field for each of its signals", () => {
    expect(layouts.entries).toHaveLength(CATALOGUE.length);
  });

  test("makes names that can be topics, in groups that are not reserved", () => {
    const reserved = /^(link|alarm|event|history|device|command|command-answer|status|fault)(\/|$)/;
    for (const { name } of facts) {
      expect(name).toMatch(/^[a-z0-9-]+(\/[a-z0-9-]+){1,3}$/);
      expect(name).not.toMatch(reserved);
    }
  });

  test("gives a name one unit, wherever it comes from", () => {
    const units = new Map<string, string>();
    for (const { name, unit } of facts) {
      expect(units.get(name) ?? unit).toBe(unit);
      units.set(name, unit);
    }
  });

  test("gives numbers a unit and words none", () => {
    for (const { unit, words } of facts) expect(unit === "").toBe(words !== null);
  });

  test("that names a field which its row does not have is refused", () => {
    const wrong = { pgn: 127488, group: "engine", keys: [], signals: [] };
    const withField = (field: string) => [{ ...wrong, signals: [{ field, quantity: "speed" }] }];
    expect(() => new MessageLayouts(withField("sped"), columns)).toThrow("no field sped");
    expect(() => new MessageLayouts(withField("instance"), columns)).toThrow(
      "a count and no 1/min",
    );
    expect(() => new MessageLayouts(withField("reserved"), columns)).toThrow("no signal");
    expect(() => new MessageLayouts(withField("speed"), columns)).not.toThrow();
  });

  test("that tells subjects apart by more than 16 bits is refused", () => {
    const keys = ["sequence-identifier", "instance", "type"].map((field) => ({
      field,
      part: "instance" as const,
    }));
    const wide = [{ pgn: 127506, group: "battery", keys, signals: [] }];
    expect(() => new MessageLayouts(wide, columns)).toThrow("24 bits");
  });
});
