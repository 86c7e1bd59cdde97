import { describe, expect, test } from "vitest";
import { HOUR, MILLISECOND, MINUTE, SECOND } from "../../ground/time.ts";
import { FrameBatch } from "../frame-batch.ts";
import { Rotation } from "./rotation.ts";

const START = 1_781_431_200 * SECOND;

/** A batch of frames at these times after the start. */
function batchAt(...times: number[]): FrameBatch {
  const batch = new FrameBatch(times.length);
  for (const time of times) batch.times[batch.count++] = START + time;
  return batch;
}

function rotation(rules = {}) {
  const made = new Rotation({ every: HOUR, most: 50_000_000, ...rules });
  /** Where files begin, in time after the start. */
  const begins = (batch: FrameBatch, arrival?: number) =>
    made.portions(batch, arrival)
      .map((portion) => portion.begins)
      .filter((time) => time !== undefined)
      .map((time) => time - START);
  return { made, begins };
}

describe("a recording's files", () => {
  test("begin with the first frame and go on", () => {
    const { begins } = rotation();
    expect(begins(batchAt(0, SECOND, 2 * SECOND))).toEqual([0]);
    expect(begins(batchAt(3 * SECOND, MINUTE))).toEqual([]);
  });

  test("hold all frames in their order, whatever begins between them", () => {
    const { made } = rotation({ every: SECOND });
    expect(made.portions(batchAt(0, 1, SECOND, SECOND + 1, 3 * SECOND), undefined)).toEqual([
      { from: 0, to: 2, begins: START },
      { from: 2, to: 4, begins: START + SECOND },
      { from: 4, to: 5, begins: START + 3 * SECOND },
    ]);
  });

  test("end after their time", () => {
    const { begins } = rotation();
    begins(batchAt(0));
    expect(begins(batchAt(HOUR - 1, HOUR, HOUR + 1))).toEqual([HOUR]);
    expect(begins(batchAt(2 * HOUR))).toEqual([2 * HOUR]);
  });

  test("end when they are large enough", () => {
    const { made, begins } = rotation({ most: 1_000 });
    begins(batchAt(0));
    made.wrote(999);
    expect(begins(batchAt(1))).toEqual([]);
    made.wrote(1);
    expect(begins(batchAt(2, 3))).toEqual([2]);
    expect(begins(batchAt(4))).toEqual([]);
  });

  test("end where the clock was set back", () => {
    const { begins } = rotation();
    expect(begins(batchAt(10 * SECOND, 11 * SECOND, 0, 1))).toEqual([10 * SECOND, 0]);
  });

  test("do not end for two buses whose frames come a little out of order", () => {
    const { begins } = rotation();
    expect(begins(batchAt(0, 500 * MILLISECOND, 100 * MILLISECOND, 600 * MILLISECOND))).toEqual([
      0,
    ]);
  });

  test("end where the clock of a live bus was set forward", () => {
    const { begins } = rotation();
    begins(batchAt(0), 0);
    expect(begins(batchAt(10 * MINUTE), SECOND)).toEqual([10 * MINUTE]);
  });

  test("do not end where a live bus had nothing to say, or frames were held up", () => {
    const { begins } = rotation();
    begins(batchAt(0), 0);
    expect(begins(batchAt(10 * MINUTE), 10 * MINUTE)).toEqual([]);
    expect(begins(batchAt(10 * MINUTE + SECOND, 11 * MINUTE), 11 * MINUTE + SECOND)).toEqual([]);
  });

  test("do not end at a gap in frames that were recorded before", () => {
    const { begins } = rotation();
    expect(begins(batchAt(0, 30 * MINUTE))).toEqual([0]);
  });
});
