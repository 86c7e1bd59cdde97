import { describe, expect, test } from "vitest";
import { drawRecentPicture } from "./recent-picture.ts";

const times = Array.from({ length: 601 }, (_, i) => i);

describe("the picture of the last while", () => {
  test("falls as the value falls, with its limit across and a tick a minute", () => {
    const values = times.map((time) => 40 - time / 20);
    const svg = drawRecentPicture({ times, values, limit: 18, tick: 60 }) ?? "";
    const points = [...svg.matchAll(/[ML]([\d.]+) ([\d.]+)/g)]
      .map(([, x, y]) => [Number(x), Number(y)]);
    const curve = points.slice(-values.length);
    expect(curve.every(([x, y], i) => i === 0 || x >= curve[i - 1][0] && y >= curve[i - 1][1]))
      .toBe(true);
    expect(svg).toContain("stroke-dasharray");
    expect(svg.match(/v-6/g)).toHaveLength(11);
  });

  test("has a gap where nothing is known, and a dot where one value stands alone", () => {
    const values = times.map((time) => time === 300 || time < 100 ? 5 : NaN);
    const svg = drawRecentPicture({ times, values, limit: null, tick: 60 }) ?? "";
    expect(svg.match(/M[\d. ]+h0/g)).toHaveLength(2);
    expect(svg).not.toContain("stroke-dasharray");
  });

  test("has no letters, which would need a font", () => {
    const svg = drawRecentPicture({ times, values: times, limit: 3, tick: 60 }) ?? "";
    expect(svg).not.toContain("<text");
  });

  test("is not drawn where nothing is known", () => {
    const values = times.map(() => NaN);
    expect(drawRecentPicture({ times, values, limit: 3, tick: 60 })).toBeUndefined();
  });
});
