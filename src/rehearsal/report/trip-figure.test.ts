import { expect, test } from "vitest";
import { numbersAt, tripFigure } from "./trip-figure.ts";

test("the numbers of alarms that came close together stand as one over the strip", () => {
  expect(numbersAt([0.1, 0.5, 0.9]).map(({ text }) => text)).toEqual(["1", "2", "3"]);
  expect(numbersAt([0.1, 0.12, 0.5, 0.51, 0.52, 0.9])).toEqual([
    { at: 0.11, text: "1, 2" },
    { at: 0.51, text: "3–5" },
    { at: 0.9, text: "6" },
  ]);
  expect(numbersAt([])).toEqual([]);
});

test("an engine that only the boat file speaks of is not drawn", () => {
  const figure = (values: readonly number[]) => {
    const speeds = [{ name: "engine/port/speed", unit: "1/min", values }] as const;
    const traces = { overview: { times: [0, 1], speeds }, plots: [] };
    return tripFigure({ begins: 0, ends: 1, traces }, [], {});
  };
  expect(figure([NaN, NaN])).toContain("No engine was heard.");
  expect(figure([NaN, 700])).toContain("Port engine speed.");
});
