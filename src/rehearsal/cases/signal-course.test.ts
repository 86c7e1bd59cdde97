import { describe, expect, test } from "vitest";
import { Reason } from "../../boat/quality.ts";
import { SECOND } from "../../ground/time.ts";
import { type Saying, SignalCourse, type Step } from "./signal-course.ts";

function said(steps: readonly Step[], seconds: readonly number[]): Saying[] {
  const course = new SignalCourse(steps, 1);
  return seconds.map((at) => course.at(at * SECOND));
}

describe("a signal's course", () => {
  test("says nothing before its first value, then holds it", () => {
    const steps: Step[] = [{ kind: "value", at: 2 * SECOND, value: 7 }];
    expect(said(steps, [0, 1.999999, 2, 50])).toEqual([null, null, { value: 7 }, { value: 7 }]);
  });

  test("goes in a straight line along a ramp and stays at its end", () => {
    const steps: Step[] = [
      { kind: "value", at: 0, value: 700 },
      { kind: "ramp", at: 10 * SECOND, to: 1500, lasting: 10 * SECOND },
    ];
    expect(said(steps, [10, 15, 20, 30])).toEqual(
      [700, 1100, 1500, 1500].map((value) => ({ value })),
    );
  });

  test("begins a ramp where another one had come to", () => {
    const steps: Step[] = [
      { kind: "value", at: 0, value: 0 },
      { kind: "ramp", at: 0, to: 100, lasting: 10 * SECOND },
      { kind: "ramp", at: 5 * SECOND, to: 0, lasting: 5 * SECOND },
    ];
    expect(said(steps, [4, 5, 7.5, 10])).toEqual([40, 50, 25, 0].map((value) => ({ value })));
  });

  test("goes on underneath a gap", () => {
    const steps: Step[] = [
      { kind: "value", at: 0, value: 0 },
      { kind: "ramp", at: 0, to: 100, lasting: 10 * SECOND },
      { kind: "gap", at: 2 * SECOND, lasting: 3 * SECOND },
    ];
    expect(said(steps, [1, 2, 4.9, 5])).toEqual([{ value: 10 }, null, null, { value: 50 }]);
  });

  test("can be sent as not available, until a value comes", () => {
    const steps: Step[] = [
      { kind: "value", at: 0, value: 3 },
      { kind: "bad", at: SECOND, reason: Reason.notAvailable },
      { kind: "value", at: 2 * SECOND, value: 4 },
    ];
    expect(said(steps, [0, 1, 2])).toEqual([
      { value: 3 },
      { reason: Reason.notAvailable },
      { value: 4 },
    ]);
  });

  test("has noise within its size, the same for the same seed, another for another", () => {
    const noisy = (seed: number) =>
      said(
        [{ kind: "value", at: 0, value: 700 }, { kind: "noise", at: 0, size: 2, seed }],
        Array.from({ length: 500 }, (_, i) => i / 10),
      ).map((saying) => saying !== null && "value" in saying ? saying.value : NaN);
    const values = noisy(7);
    expect(Math.min(...values)).toBeGreaterThanOrEqual(698);
    expect(Math.max(...values)).toBeLessThanOrEqual(702);
    // Half a unit from the middle: ten times the standard error of a uniform noise of this size.
    expect(Math.abs(values.reduce((sum, value) => sum + value, 0) / 500 - 700)).toBeLessThan(0.5);
    expect(new Set(values).size).toBeGreaterThan(30);
    expect(noisy(7)).toEqual(values);
    expect(noisy(8)).not.toEqual(values);
  });
});
