import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { drawLinePlot, type LinePlot, roundEnds } from "./line-plot.ts";

const PLOT: LinePlot = {
  from: 0,
  to: 10,
  bottom: 0,
  top: 50,
  times: [0, 2, 4, 6, 8, 10],
  lines: [
    { class: "value", values: [40, 20, NaN, 30, 30, 40] },
    { class: "limit", values: [25, 25, 25, 25, 35, 35] },
  ],
  bands: [{ from: 2, to: 4, class: "delay" }],
  instants: [{ at: 5, class: "raised" }],
  beyond: { side: "low", from: 0, to: 9 },
};

describe("a plot of lines", () => {
  test("leaves a gap where a value is not known", () => {
    expect(drawLinePlot(PLOT, "")).toContain(
      '<path class="value" d="M0 20L200 60M600 40L800 40L1000 20"/>',
    );
  });

  test("shades where the value is on the wrong side of its limit, within the given time", () => {
    const shaded = (from: number) =>
      drawLinePlot({ ...PLOT, beyond: { side: "low", from, to: 9 } }, "").match(/class="beyond"/g);
    expect(shaded(0)?.length).toBe(2);
    expect(shaded(5)?.length).toBe(1);
    const svg = drawLinePlot(PLOT, "");
    expect(svg).toContain('<path class="beyond" d="M200 60L200 50Z"/>');
    expect(svg).toContain('<path class="beyond" d="M800 40L800 30Z"/>');
  });

  test("has bands and instants where they lie", () => {
    const svg = drawLinePlot(PLOT, "");
    expect(svg).toContain('<rect class="delay" x="200" y="0" width="200" height="100"/>');
    expect(svg).toContain('<path class="raised" d="M500 0V100"/>');
  });

  test("says in words what it shows, with nothing that ends the attribute", () => {
    expect(drawLinePlot(PLOT, 'oil "low" <now>')).toContain(
      'aria-label="oil &quot;low&quot; &lt;now>"',
    );
  });
});

test("the ends of an axis are round and hold every value", () => {
  expect(roundEnds([13, 47])).toEqual({ bottom: 10, top: 50 });
  expect(roundEnds([0, 2196])).toEqual({ bottom: 0, top: 3000 });
  expect(roundEnds([NaN])).toEqual({ bottom: 0, top: 1 });
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -1e6, max: 1e6 }), { minLength: 1 }), (values) => {
      const { bottom, top } = roundEnds(values);
      expect(bottom).toBeLessThanOrEqual(Math.min(...values) + 1e-6);
      expect(top).toBeGreaterThanOrEqual(Math.max(...values) - 1e-6);
      expect(top).toBeGreaterThan(bottom);
    }),
  );
});
