import fc from "fast-check";
import { expect, test } from "vitest";
import {
  type NumberEntry,
  packNumbers,
  packWords,
  unpackNumbers,
  unpackWords,
  withEntry,
  type WordEntry,
} from "./minute-block.ts";

const whole = fc.integer({ min: 0, max: 100_000 });
const at = fc.record({ minute: fc.nat(59), length: fc.integer({ min: 1, max: 60 }), count: whole });

test("numbers come back as they were", () => {
  const decimals = fc.nat(7);
  const steps = fc.tuple(
    at,
    fc.integer({ min: -1_000_000_000, max: 1_000_000_000 }),
    whole,
    fc.nat(1000),
  );
  fc.assert(fc.property(decimals, fc.array(steps, { maxLength: 60 }), (decimals, steps) => {
    const scale = 10 ** decimals;
    const entries = steps.map(([at, least, spread, share]): NumberEntry => ({
      ...at,
      min: least / scale,
      mean: (least * 1000 + share * spread) / (scale * 1000),
      max: (least + spread) / scale,
    }));
    expect(unpackNumbers(packNumbers(entries, decimals), decimals)).toEqual(entries);
  }));
});

test("words come back as they were", () => {
  fc.assert(fc.property(fc.array(fc.tuple(at, fc.nat(300)), { maxLength: 60 }), (steps) => {
    const entries = steps.map(([at, word]): WordEntry => ({ ...at, word }));
    expect(unpackWords(packWords(entries))).toEqual(entries);
  }));
});

test("bytes that nobody packed make no endless loop", () => {
  fc.assert(fc.property(fc.uint8Array({ maxLength: 50 }), (bytes) => {
    expect(unpackNumbers(bytes, 2).length).toBeLessThanOrEqual(bytes.length);
    expect(unpackWords(bytes).length).toBeLessThanOrEqual(bytes.length);
  }));
});

test("an hour of a steady voltage takes at most eight bytes a minute", () => {
  const entries = Array.from({ length: 60 }, (_, minute): NumberEntry => ({
    minute,
    length: 1,
    count: 40,
    min: 12.71 + (minute % 3) / 100,
    mean: 12.745,
    max: 12.78,
  }));
  expect(packNumbers(entries, 2).length).toBeLessThanOrEqual(8 * 60);
});

test("an entry goes to its place in time, and takes the place of its own minute", () => {
  const word = (minute: number, word: number): WordEntry => ({ minute, length: 1, count: 1, word });
  const entries = [word(1, 0), word(5, 0)];
  expect(withEntry(entries, word(3, 7))).toEqual([word(1, 0), word(3, 7), word(5, 0)]);
  expect(withEntry(entries, word(5, 7))).toEqual([word(1, 0), word(5, 7)]);
  expect(withEntry(entries, word(9, 7))).toEqual([...entries, word(9, 7)]);
});
