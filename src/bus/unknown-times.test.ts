import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { FrameBatch } from "./frame-batch.ts";
import { unknownTimesIn, withoutUnknownTimes } from "./unknown-times.ts";
import { Timeline } from "../ground/timeline.ts";

function batchOf(times: readonly number[]): FrameBatch {
  const batch = new FrameBatch(times.length);
  batch.count = times.length;
  batch.times.set(times);
  return batch;
}

/** The steady time of each frame, on a timeline that has come to `before`. */
function steadyTimes(batches: Iterable<FrameBatch>, before: number): number[] {
  const timeline = new Timeline();
  timeline.reach(before);
  return [...batches].flatMap((batch) => {
    if (batch.clockStep !== 0) timeline.step(batch.times[0]);
    return [...batch.times].map((time) => timeline.reach(time));
  });
}

describe("times of which nobody knows what was said when", () => {
  test("are the pauses of a source that are long and end late enough", () => {
    const batches = [batchOf([5, 30]), batchOf([31, 60])];
    const search = { before: 0, longest: 10 };
    expect(unknownTimesIn(batches, { ...search, endsFrom: -Infinity }))
      .toEqual([{ from: 5, to: 30 }, { from: 31, to: 60 }]);
    expect(unknownTimesIn(batches, { ...search, endsFrom: 40 })).toEqual([{ from: 31, to: 60 }]);
  });

  test("take no time; every other time passes, and no frame is lost", () => {
    const time = fc.integer({ min: 1, max: 200_000 });
    const pair = fc.tuple(time, fc.integer({ min: 1, max: 50_000 }));
    const pauses = fc.array(pair, { maxLength: 4 });
    fc.assert(
      fc.property(fc.array(time, { maxLength: 40 }), pauses, fc.nat(), (more, found, cut) => {
        const unknown = found.map(([from, length]) => ({ from, to: from + length }));
        // Before and after the unknown its source says something.
        const times = [...more, ...unknown.flatMap(({ from, to }) => [from, to])].toSorted((a, b) =>
          a - b
        );
        const batches = [times.slice(0, cut % 40), times.slice(cut % 40)].map(batchOf);
        const isUnknown = (at: number) => unknown.some(({ from, to }) => at > from && at <= to);
        const passed = times.map((until) => {
          let sum = 0;
          const edges = [0, until, ...unknown.flatMap(({ from, to }) => [from, to])]
            .filter((edge) => edge <= until).toSorted((a, b) => a - b);
          for (let i = 1; i < edges.length; i++) {
            if (!isUnknown(edges[i])) sum += edges[i] - edges[i - 1];
          }
          return sum;
        });
        expect(steadyTimes(withoutUnknownTimes(batches, unknown), 0)).toEqual(passed);
      }),
    );
  });
});
