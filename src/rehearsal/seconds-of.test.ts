import fc from "fast-check";
import { expect, test } from "vitest";
import { FrameBatch } from "../bus/frame-batch.ts";
import { Seconds } from "./seconds-of.ts";

/** What is fed and when a second is over, as one story. */
function story(times: readonly number[], batchSize: number): string[] {
  const told: string[] = [];
  const seconds = new Seconds(() => told.push("second"));
  for (let from = 0; from < times.length; from += batchSize) {
    const part = times.slice(from, from + batchSize);
    const batch = new FrameBatch(batchSize);
    batch.times.set(part);
    part.forEach((_, i) => batch.data[i * 8] = (from + i) & 0xff);
    batch.count = part.length;
    seconds.cut(batch, (piece) => {
      for (let i = 0; i < piece.count; i++) told.push(`${piece.times[i]} ${piece.data[i * 8]}`);
    });
  }
  return told;
}

test("a second is over between its last frame and the first of a later one", () => {
  expect(story([5, 999_999, 1_000_004, 1_000_005, 1_000_006, 9_000_000, 9_500_000], 100)).toEqual([
    "5 0",
    "999999 1",
    "1000004 2",
    "second",
    "1000005 3",
    "1000006 4",
    "second",
    "9000000 5",
    "second",
    "9500000 6",
  ]);
});

test("seconds are counted anew where the clock was set back, and not where frames are in disorder", () => {
  const second = 1_000_000;
  const times = [0, 10.5, 10.1, 10.6, 4, 4.5, 5.1, 5.2].map((time) => time * second);
  const told = story(times, 3).map((line) =>
    line === "second" ? line : Number(line.split(" ")[0]) / second
  );
  expect(told).toEqual([0, "second", 10.5, 10.1, 10.6, 4, 4.5, "second", 5.1, 5.2]);
});

test("seconds and frames are the same whatever the size of the batches", () => {
  const times = fc.array(fc.nat(30_000_000), { minLength: 1, maxLength: 200 });
  fc.assert(fc.property(times, fc.integer({ min: 1, max: 250 }), (times, size) => {
    const sorted = times.toSorted((a, b) => a - b);
    expect(story(sorted, size)).toEqual(story(sorted, 1000));
    expect(story(times, size)).toEqual(story(times, 1000));
  }));
});
