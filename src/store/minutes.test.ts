import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { MINUTE, SECOND } from "../ground/time.ts";
import { Minutes } from "./minutes.ts";

function closed(minutes: Minutes, slot: number, now: number) {
  if (!minutes.close(slot, now)) return undefined;
  const { min, mean, max, last } = minutes;
  return { min, mean, max, last };
}

describe("a minute of a signal", () => {
  test("weighs each value by the time for which it stood", () => {
    const minutes = new Minutes();
    const slot = minutes.add(10, false, 0);
    minutes.change(slot, 40, 45 * SECOND);
    expect(closed(minutes, slot, MINUTE)).toEqual({ min: 10, mean: 17.5, max: 40, last: 40 });
  });

  test("begins with the value that stood when the last one ended", () => {
    const minutes = new Minutes();
    const slot = minutes.add(10, false, 0);
    minutes.change(slot, 12, 59 * SECOND);
    minutes.close(slot, MINUTE);
    expect(closed(minutes, slot, 2 * MINUTE)).toEqual({ min: 12, mean: 12, max: 12, last: 12 });
  });

  test("gives no weight to time without a value, and takes none for zero", () => {
    const minutes = new Minutes();
    const slot = minutes.add(NaN, false, 0);
    minutes.change(slot, 8, 30 * SECOND);
    minutes.change(slot, NaN, 40 * SECOND);
    expect(closed(minutes, slot, MINUTE)).toEqual({ min: 8, mean: 8, max: 8, last: 8 });
    expect(closed(minutes, slot, 2 * MINUTE)).toBeUndefined();
  });

  test("keeps a spike that lasted no time", () => {
    const minutes = new Minutes();
    const slot = minutes.add(14, false, 0);
    minutes.change(slot, 16.5, SECOND);
    minutes.change(slot, 14, SECOND);
    expect(closed(minutes, slot, MINUTE)).toMatchObject({ mean: 14, max: 16.5 });
  });

  test("follows an angle around the circle", () => {
    const minutes = new Minutes();
    const slot = minutes.add(359, true, 0);
    minutes.change(slot, 1, 30 * SECOND);
    expect(closed(minutes, slot, MINUTE)).toEqual({ min: 359, mean: 360, max: 361, last: 361 });
    minutes.change(slot, 357, 90 * SECOND);
    expect(closed(minutes, slot, 2 * MINUTE)).toMatchObject({ min: -3, mean: -1, max: 1 });
  });

  test("tells nothing of a time when nobody watched", () => {
    const minutes = new Minutes();
    const slot = minutes.add(10, false, 0);
    minutes.skipTo(50 * SECOND);
    minutes.change(slot, 20, 55 * SECOND);
    expect(closed(minutes, slot, MINUTE)).toMatchObject({ mean: 15 });
  });
});

test("the mean is that of the values second by second", () => {
  const values = fc.array(fc.option(fc.integer({ min: -50, max: 50 }), { nil: NaN }), {
    minLength: 60,
    maxLength: 60,
  });
  fc.assert(fc.property(values, (seconds) => {
    const minutes = new Minutes();
    for (let i = 0; i < 70; i++) minutes.add(0, false, 0);
    const slot = minutes.add(seconds[0], false, 0);
    seconds.forEach((value, i) => minutes.change(slot, value, i * SECOND));
    const known = seconds.filter((value) => !Number.isNaN(value));
    const found = closed(minutes, slot, MINUTE);
    if (known.length === 0) return expect(found).toBeUndefined();
    expect(found?.min).toBe(Math.min(...known));
    expect(found?.max).toBe(Math.max(...known));
    expect(found?.mean).toBeCloseTo(known.reduce((a, b) => a + b) / known.length, 9);
  }));
});
