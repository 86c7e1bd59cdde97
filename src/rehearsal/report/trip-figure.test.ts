import { expect, test } from "vitest";
import { numbersAt } from "./trip-figure.ts";

test("the numbers of alarms that came close together stand as one over the strip", () => {
  expect(numbersAt([0.1, 0.5, 0.9]).map(({ text }) => text)).toEqual(["1", "2", "3"]);
  expect(numbersAt([0.1, 0.12, 0.5, 0.51, 0.52, 0.9])).toEqual([
    { at: 0.11, text: "1, 2" },
    { at: 0.51, text: "3–5" },
    { at: 0.9, text: "6" },
  ]);
  expect(numbersAt([])).toEqual([]);
});
