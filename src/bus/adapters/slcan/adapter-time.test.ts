import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { MILLISECOND, SECOND } from "../../../ground/time.ts";
import { AdapterTime } from "./adapter-time.ts";

const START = 1_781_431_200 * SECOND;
const at = (milliseconds: number) => START + milliseconds * MILLISECOND;

describe("an adapter's milliseconds", () => {
  test("tell frames apart that arrive together", () => {
    const time = new AdapterTime();
    time.stamp(59_990, at(0));
    const stamps = [59_994, 59_998, 2].map((milliseconds) => time.stamp(milliseconds, at(15)));
    expect(stamps.map((stamp) => Math.round((stamp - START) / MILLISECOND))).toEqual([4, 8, 12]);
  });

  test("go on after many minutes without a frame", () => {
    const time = new AdapterTime();
    time.stamp(30_000, at(0));
    expect(time.stamp(40_000, at(10 * 60_000 + 10_002))).toBe(at(10 * 60_000 + 10_000));
  });

  test("never stamp a frame later than it arrived", () => {
    const time = new AdapterTime();
    time.stamp(100, at(100));
    expect(time.stamp(110, at(105))).toBe(at(105));
  });

  test("follow an adapter whose clock runs slow", () => {
    const time = new AdapterTime();
    let late = 0;
    for (let second = 0; second < 3_600; second++) {
      const slow = Math.floor(second * 999.9) % 60_000;
      late = Math.max(late, at(second * 1_000) - time.stamp(slow, at(second * 1_000)));
    }
    expect(late).toBeLessThanOrEqual(100 * MILLISECOND);
  });

  test("are learned anew once our clock was set", () => {
    const time = new AdapterTime();
    time.stamp(0, at(0));
    time.forget();
    expect(time.stamp(10, at(-3_600_000))).toBe(at(-3_600_000));
  });

  test("never run back, whatever the adapter says", () => {
    const said = fc.array(fc.tuple(fc.nat(59_999), fc.nat(120_000)), { maxLength: 50 });
    fc.assert(fc.property(said, (frames) => {
      const time = new AdapterTime();
      let arrival = START;
      let last = -Infinity;
      for (const [milliseconds, later] of frames) {
        arrival += later * MILLISECOND;
        const stamp = time.stamp(milliseconds, arrival);
        expect(stamp).toBeGreaterThanOrEqual(last);
        expect(stamp).toBeLessThanOrEqual(arrival);
        last = stamp;
      }
    }));
  });
});
