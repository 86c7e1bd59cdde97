import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { LowestOf } from "./lowest-of.ts";

describe("the lowest value of the last while", () => {
  test("keeps a low value until the instant at which it was superseded plus the length", () => {
    const window = new LowestOf(3000);
    window.take(700, 0);
    window.take(1800, 500);
    expect([window.lowest, window.nextLeave]).toEqual([700, 3500]);
    window.expire(3499);
    expect(window.lowest).toBe(700);
    window.expire(3500);
    expect([window.lowest, window.nextLeave]).toEqual([1800, Infinity]);
  });

  test("counts a value that is sent again as one that lasts", () => {
    const window = new LowestOf(3000);
    window.take(700, 0);
    window.take(700, 2000);
    window.take(1800, 4000);
    expect(window.nextLeave).toBe(7000);
  });

  test("is not known while the present value is not, and remembers what came before", () => {
    const window = new LowestOf(3000);
    window.take(700, 0);
    window.take(NaN, 1000);
    expect(window.lowest).toBeNaN();
    window.take(1800, 2000);
    expect(window.lowest).toBe(700);
    window.expire(4000);
    expect(window.lowest).toBe(1800);
  });

  test("is the same as looking at every value again", () => {
    const steps = fc.array(fc.record({ wait: fc.nat(20), value: fc.integer({ min: 0, max: 9 }) }), {
      maxLength: 200,
    });
    fc.assert(fc.property(steps, fc.integer({ min: 1, max: 50 }), (all, length) => {
      const window = new LowestOf(length);
      const spans: { value: number; end: number }[] = [];
      let now = 0;
      for (const { wait, value } of all) {
        now += wait;
        const last = spans.at(-1);
        if (last !== undefined) last.end = now;
        spans.push({ value, end: Infinity });
        window.take(value, now);
        const inside = spans.filter((span) => span.end + length > now);
        expect(window.lowest).toBe(Math.min(...inside.map((span) => span.value)));
      }
    }));
  });
});
