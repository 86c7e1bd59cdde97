import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { isoTime, parseIsoTime, SECOND } from "./time.ts";
import { Timeline } from "./timeline.ts";

describe("times as text", () => {
  test("carry six decimals in files and three on the broker", () => {
    const time = 1_781_431_923_120_987;
    expect(isoTime(time, 6)).toBe("2026-06-14T10:12:03.120987Z");
    expect(isoTime(time, 3)).toBe("2026-06-14T10:12:03.120Z");
  });

  test("come back as the instant they were", () => {
    fc.assert(fc.property(fc.integer({ min: 0, max: 4e15 }), (time) => {
      expect(parseIsoTime(isoTime(time, 6))).toBe(time);
    }));
    expect(parseIsoTime("2026-06-14T12:12:03+02:00")).toBe(1_781_431_923 * SECOND);
    expect(parseIsoTime("14 June")).toBeUndefined();
    expect(parseIsoTime("2026-13-14T12:12:03Z")).toBeUndefined();
  });
});

describe("steady time made of stamps", () => {
  test("follows the stamps, gaps too", () => {
    const line = new Timeline();
    expect(line.reach(100 * SECOND)).toBe(100 * SECOND);
    expect(line.reach(5000 * SECOND)).toBe(5000 * SECOND);
    expect(line.steps).toBe(0);
  });

  test("stands still where the clock was set back and then goes on from there", () => {
    const line = new Timeline();
    line.reach(5000 * SECOND);
    expect(line.reach(1400 * SECOND)).toBe(5000 * SECOND);
    expect(line.reach(1401 * SECOND)).toBe(5001 * SECOND);
    expect(line.steps).toBe(1);
    expect(line.wallOf(line.now)).toBe(1401 * SECOND);
  });

  test("takes frames that come a little late as they are", () => {
    const line = new Timeline();
    line.reach(10 * SECOND);
    expect(line.reach(10 * SECOND - 4_000)).toBe(10 * SECOND);
    expect(line.reach(11 * SECOND)).toBe(11 * SECOND);
    expect(line.steps).toBe(0);
  });
});
