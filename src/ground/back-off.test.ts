import { expect, test } from "vitest";
import { backOff } from "./back-off.ts";
import { MINUTE, SECOND } from "./time.ts";

test("each failure doubles the wait until the longest", () => {
  const waits = [1, 2, 3, 4, 8, 9, 1000].map((attempt) => backOff(attempt, 1) / SECOND);
  expect(waits).toEqual([1, 2, 4, 8, 120, 120, 120]);
});

test("jitter takes at most half of the wait away", () => {
  expect(backOff(3, 0)).toBe(2 * SECOND);
  expect(backOff(3, 0.5)).toBe(3 * SECOND);
});

test("the longest wait can be chosen", () => {
  expect(backOff(20, 1, 10 * MINUTE)).toBe(10 * MINUTE);
});
