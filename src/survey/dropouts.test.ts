import { expect, test } from "vitest";
import { MINUTE, SECOND } from "../ground/time.ts";
import { Dropouts } from "./dropouts.ts";

function dropoutsIn(seconds: readonly number[], oldAge = 4.5) {
  const dropouts = new Dropouts();
  for (const interval of seconds) dropouts.take(interval * SECOND, oldAge * SECOND);
  return [dropouts.count, dropouts.longest / SECOND];
}

test("what stays away far longer than it usually does has dropped out", () => {
  expect(dropoutsIn([1.5, 1.5, 1.5, 20, 1.5, 12, 1.5])).toEqual([2, 20]);
});

test.each([
  ["comes seldom by itself", [15, 15, 14, 15, 16]],
  ["is a little late", [1.5, 1.5, 1.5, 4.9, 1.5]],
  ["was hardly heard before", [1.5, 20, 1.5]],
  ["stays away as long as what was switched off", [1.5, 1.5, 1.5, 11 * MINUTE / SECOND]],
])("what %s has not", (_, seconds) => {
  expect(dropoutsIn(seconds)).toEqual([0, 0]);
});
