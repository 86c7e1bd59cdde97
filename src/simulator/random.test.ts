import { describe, expect, test } from "vitest";
import { Random } from "./random.ts";
import { Wander } from "./wander.ts";

describe("chance", () => {
  test("repeats itself for one seed and label, and differs for another", () => {
    const draw = (seed: number, label: string) => {
      const random = new Random(seed, label);
      return Array.from({ length: 5 }, () => random.fraction());
    };
    expect(draw(7, "wind")).toEqual(draw(7, "wind"));
    expect(draw(7, "wind")).not.toEqual(draw(8, "wind"));
    expect(draw(7, "wind")).not.toEqual(draw(7, "waves"));
  });

  test("is even between 0 and 1, and its noise is centred and bounded", () => {
    const random = new Random(1, "even");
    const tenths = new Array<number>(10).fill(0);
    let sum = 0;
    for (let i = 0; i < 10_000; i++) {
      tenths[Math.floor(random.fraction() * 10)]++;
      const noise = random.noise(2);
      expect(Math.abs(noise)).toBeLessThanOrEqual(2);
      sum += noise;
    }
    for (const count of tenths) expect(Math.abs(count - 1000)).toBeLessThan(150);
    expect(Math.abs(sum / 10_000)).toBeLessThan(0.05);
  });

  test("makes a wandering value that strays about as far as it should", () => {
    const wander = new Wander(new Random(3, "wander"), 5, 10);
    let squares = 0;
    for (let i = 0; i < 100_000; i++) squares += wander.step(0.1) ** 2;
    expect(Math.sqrt(squares / 100_000)).toBeGreaterThan(4);
    expect(Math.sqrt(squares / 100_000)).toBeLessThan(6);
  });
});
