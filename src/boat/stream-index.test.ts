import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { NOTHING, StreamIndex, streamOf } from "./stream-index.ts";

describe("stream index", () => {
  test("finds what a map finds, whatever is put in", () => {
    const entry = fc.record({
      bus: fc.nat(15),
      pgn: fc.nat(0x3ffff),
      source: fc.nat(255),
      key: fc.nat(0xffff),
      value: fc.integer({ min: -1, max: 1000 }),
    });
    fc.assert(fc.property(fc.array(entry, { maxLength: 32 }), (entries) => {
      const index = new StreamIndex(6);
      const map = new Map<string, number>();
      for (const { bus, pgn, source, key, value } of entries) {
        const stream = streamOf(bus, pgn, source);
        const name = `${stream} ${key}`;
        expect(index.find(stream, key)).toBe(map.get(name) ?? NOTHING);
        if (map.has(name)) continue;
        map.set(name, value);
        index.put(stream, key, value);
      }
      for (const { bus, pgn, source, key } of entries) {
        const stream = streamOf(bus, pgn, source);
        expect(index.find(stream, key)).toBe(map.get(`${stream} ${key}`));
      }
    }));
  });

  test("says when it is full and then takes nothing more", () => {
    const index = new StreamIndex(2);
    index.put(1, 1, 0);
    expect(index.full).toBe(false);
    index.put(1, 2, 1);
    expect(index.full).toBe(true);
    expect(() => index.put(1, 3, 2)).toThrow("full");
    expect(index.find(1, 3)).toBe(NOTHING);
  });

  test("is empty after it was cleared", () => {
    const index = new StreamIndex(2);
    index.put(1, 1, 0);
    index.clear();
    expect(index.find(1, 1)).toBe(NOTHING);
    expect(index.full).toBe(false);
  });
});
