import { describe, expect, test } from "vitest";
import { highWater } from "../../tests/support/high-water.ts";
import type { AlarmChange } from "../alarms/change.ts";
import { HOUR, SECOND } from "../ground/time.ts";
import { Timeline } from "../ground/timeline.ts";
import { RunTime, runTimeOf, wallTimeOf } from "./run-time.ts";

/** 2001, so that the clock counts as one that was set. */
const START = 31 * 365 * 24 * HOUR;

const at = (time: number): AlarmChange => highWater({ time });

/** Ten seconds, then the clock is set by so much, then ten more. */
function setBy(shift: number) {
  const timeline = new Timeline();
  const time = new RunTime(timeline);
  timeline.reach(START);
  timeline.reach(START + 10 * SECOND);
  const before = time.of([at(START + 4 * SECOND)]);
  if (shift > 0) timeline.step(START + 10 * SECOND + shift);
  timeline.reach(START + 10 * SECOND + shift);
  timeline.reach(START + 11 * SECOND + shift);
  // One of each clock, in one piece.
  const amid = time.of([at(START + 10 * SECOND), at(START + 11 * SECOND + shift)]);
  timeline.reach(START + 20 * SECOND + shift);
  const after = time.of([at(START + 15 * SECOND + shift)]);
  return { time, times: [...before, ...amid, ...after].map((one) => (one.time - START) / SECOND) };
}

describe("the times of a run", () => {
  test.each([0, HOUR, -HOUR])("go on as if nobody had set the clock by %d", (shift) => {
    expect(setBy(shift).times).toEqual([4, 10, 11, 15]);
  });

  test.each([0, HOUR, -HOUR])("are found from the wall's and told by them, set by %d", (shift) => {
    const { settings } = setBy(shift).time;
    expect(settings.length).toBe(shift === 0 ? 0 : 1);
    for (const seconds of [4, 15]) {
      const wall = START + seconds * SECOND + (seconds > 10 ? shift : 0);
      expect(runTimeOf(wall, settings, START)).toBe(START + seconds * SECOND);
      expect(wallTimeOf(START + seconds * SECOND, settings)).toBe(wall);
    }
  });

  test("that the wall's clock passed over are those of its setting; of two alike it is the first", () => {
    const on = setBy(HOUR).time.settings;
    expect(runTimeOf(START + HOUR / 2, on, START)).toBe(on[0].at);
    const back = setBy(-5 * SECOND).time.settings;
    expect(runTimeOf(START + 8 * SECOND, back, START)).toBe(START + 8 * SECOND);
  });
});
