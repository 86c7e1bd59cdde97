import { describe, expect, test } from "vitest";
import { HOUR, type Micros, parseIsoTime, SECOND } from "./time.ts";
import { Timeline } from "./timeline.ts";

const MORNING = parseIsoTime("2026-06-14T10:00:00Z") ?? 0;
/** A computer without a battery for its clock begins here. */
const BEGINNING: Micros = 18 * SECOND;

describe("steady time", () => {
  test("goes on by the stamps, and over a gap", () => {
    const timeline = new Timeline();
    expect(timeline.reach(MORNING)).toBe(MORNING);
    expect(timeline.reach(MORNING + 3 * HOUR)).toBe(MORNING + 3 * HOUR);
    expect(timeline.steps).toBe(0);
  });

  test("stands still where the clock is set back, and goes on from there", () => {
    const timeline = new Timeline();
    timeline.reach(MORNING);
    expect(timeline.reach(MORNING - HOUR)).toBe(MORNING);
    expect(timeline.reach(MORNING - HOUR + SECOND)).toBe(MORNING + SECOND);
    expect(timeline.wallOf(timeline.now)).toBe(MORNING - HOUR + SECOND);
  });

  test("stands still where a clock that began in 1970 is set, since no bus was there before", () => {
    const timeline = new Timeline();
    timeline.reach(BEGINNING);
    expect(timeline.reach(MORNING)).toBe(BEGINNING);
    expect(timeline.reach(MORNING + SECOND)).toBe(BEGINNING + SECOND);
    expect(timeline.steps).toBe(1);
    expect(timeline.wallOf(timeline.now)).toBe(MORNING + SECOND);
    // A gap after that is a gap.
    expect(timeline.reach(MORNING + HOUR)).toBe(BEGINNING + HOUR);
  });

  test("is not moved by a frame that was stamped before the clock was set and comes late", () => {
    const timeline = new Timeline();
    timeline.reach(BEGINNING);
    timeline.reach(MORNING);
    expect(timeline.reach(BEGINNING)).toBe(BEGINNING);
    expect(timeline.reach(MORNING + SECOND)).toBe(BEGINNING);
    expect(timeline.wallOf(timeline.now)).toBe(MORNING + SECOND);
  });

  test("stands still where it is told that the clock was set forward", () => {
    const timeline = new Timeline();
    timeline.reach(MORNING);
    timeline.step(MORNING + HOUR);
    expect(timeline.reach(MORNING + HOUR)).toBe(MORNING);
    expect(timeline.reach(MORNING + HOUR + SECOND)).toBe(MORNING + SECOND);
    expect(timeline.wallOf(timeline.now)).toBe(MORNING + HOUR + SECOND);
    expect(timeline.steps).toBe(1);
  });

  test("takes the first stamp for what it is", () => {
    const timeline = new Timeline();
    expect(timeline.reach(MORNING)).toBe(MORNING);
    expect(timeline.wallOf(timeline.now)).toBe(MORNING);
  });

  test("is nothing before the first stamp, whatever the clock on the wall says meanwhile", () => {
    const timeline = new Timeline();
    timeline.wallBefore = MORNING - HOUR;
    expect(timeline.now).toBe(0);
    expect(timeline.wallOf(timeline.now)).toBe(MORNING - HOUR);
    timeline.reach(MORNING);
    expect(timeline.wallOf(timeline.now)).toBe(MORNING);
  });
});
