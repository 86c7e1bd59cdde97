import fc from "fast-check";
import { expect, test } from "vitest";
import { NumberedStream } from "./numbered-stream.ts";

test("whatever the order and the repeats, each is given on once and in order", () => {
  const arrivals = fc.array(fc.integer({ min: 1, max: 30 }), { maxLength: 200 });
  fc.assert(fc.property(arrivals, (numbers) => {
    const stream = new NumberedStream<number>(0);
    const given = numbers.flatMap((number) => stream.take(number, number, number));
    expect(given).toEqual(given.map((_, i) => i + 1));
    const first = Array.from({ length: 31 }, (_, i) => i + 1).find((n) => !numbers.includes(n));
    expect(given.length).toBe((first ?? 31) - 1);
    const known = Math.max(0, ...numbers);
    if (given.length === known) expect(stream.missing).toBeNull();
    else expect(stream.missing?.from).toBe(first);
  }));
});

test("a gap ends before the first that waits, or where the sender says it is", () => {
  const stream = new NumberedStream<string>(4);
  stream.take(8, 8, "h");
  expect(stream.missing).toEqual({ from: 5, to: 7 });
  stream.noteLast(20);
  stream.take(5, 7, "e to g");
  expect(stream.missing).toEqual({ from: 9, to: 20 });
});

test("ranges that overlap what was given on are taken once", () => {
  const stream = new NumberedStream<string>(0);
  expect(stream.take(1, 15, "a")).toEqual(["a"]);
  expect(stream.take(4, 15, "b")).toEqual([]);
  expect(stream.take(10, 20, "c")).toEqual(["c"]);
  expect(stream.last).toBe(20);
});

test("what is gone for ever is gone past", () => {
  const stream = new NumberedStream<string>(0);
  stream.take(41, 41, "x");
  expect(stream.giveUp(40)).toEqual(["x"]);
  expect(stream.missing).toBeNull();
});
