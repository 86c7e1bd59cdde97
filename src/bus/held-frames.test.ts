import { expect, test } from "vitest";
import fc from "fast-check";
import { FrameBatch } from "./frame-batch.ts";
import { emptyCounts, type FrameSource } from "./frame-source.ts";
import { HeldFrames } from "./held-frames.ts";

const source = (title: string): FrameSource => ({
  title,
  live: true,
  counts: emptyCounts(),
  problems: [],
  async *batches() {},
  stop() {},
});

function batchOf(bus: number, times: readonly number[]): FrameBatch {
  const batch = new FrameBatch(times.length + 1);
  batch.count = times.length;
  batch.times.set(times);
  batch.buses.fill(bus);
  batch.data.fill(bus + 1);
  return batch;
}

test("held frames of several sources come once, in the order of their times", () => {
  const times = fc.array(fc.integer({ min: 0, max: 1_000 }), { minLength: 1 });
  fc.assert(fc.property(fc.array(fc.array(times), { maxLength: 4 }), (told) => {
    const held = new HeldFrames();
    const all: { time: number; bus: number }[] = [];
    for (const [bus, batches] of told.entries()) {
      const from = source(`can${bus}`);
      // Each source is in order by itself, cut into batches anywhere.
      const sorted = batches.flat().toSorted((a, b) => a - b);
      for (const { length } of batches) {
        const own = sorted.splice(0, length);
        held.hold(from, batchOf(bus, own));
        all.push(...own.map((time) => ({ time, bus })));
      }
    }
    expect(held.count).toBe(all.length);
    const given = [...held.inOrder()].flatMap(({ count, times, buses, data }) =>
      Array.from({ length: count }, (_, i) => {
        expect(data[i * 8 + 7]).toBe(buses[i] + 1);
        return { time: times[i], bus: buses[i] };
      })
    );
    expect(given.map(({ time }) => time)).toEqual(
      given.map(({ time }) => time).toSorted((a, b) => a - b),
    );
    expect(given.toSorted((a, b) => a.bus - b.bus || a.time - b.time))
      .toEqual(all.toSorted((a, b) => a.bus - b.bus || a.time - b.time));
    expect([held.count, [...held.inOrder()]]).toEqual([0, []]);
  }));
});
