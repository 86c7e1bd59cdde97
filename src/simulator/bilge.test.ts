import { describe, expect, test } from "vitest";
import { Bilge, DEEP_BILGE } from "./bilge.ts";
import { Random } from "./random.ts";

function deep(inflow: number, water: number): Bilge {
  return new Bilge(DEEP_BILGE, new Random(1, "bilge"), inflow, water);
}

function starts(bilge: Bilge, hours: number): number {
  let count = 0;
  for (let second = 0; second < hours * 3600; second++) {
    const before = bilge.pumping;
    bilge.step(1);
    if (bilge.pumping && !before) count++;
  }
  return count;
}

describe("a bilge", () => {
  test("that takes 18 L/h is pumped about twice an hour", () => {
    const count = starts(deep(18, 3), 10);
    expect(count).toBeGreaterThanOrEqual(18);
    expect(count).toBeLessThanOrEqual(24);
  });

  test("is emptied in one run, without the pump chattering at its switch", () => {
    const bilge = deep(18, 11.99);
    let seconds = 0;
    while (!bilge.pumping) bilge.step(1);
    for (; bilge.pumping; seconds++) bilge.step(1);
    expect(seconds).toBeGreaterThan(15);
    expect(seconds).toBeLessThan(25);
    expect(bilge.water).toBeLessThan(5);
    expect(starts(bilge, 0.2)).toBe(0);
  });

  test("whose leak beats the pump lifts the high-water float, which falls once it is emptied", () => {
    const bilge = deep(3000, 3);
    for (let second = 0; second < 300; second++) bilge.step(1);
    expect(bilge.pumping).toBe(true);
    expect(bilge.floating).toBe(true);
    bilge.inflow = 0;
    for (let second = 0; second < 300; second++) bilge.step(1);
    expect(bilge.floating).toBe(false);
    expect(bilge.pumping).toBe(false);
  });
});
