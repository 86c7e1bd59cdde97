import { expect, test } from "vitest";
import { DropCount } from "./drop-count.ts";

test("a drop count tells what was lost since it was last read", () => {
  const count = new DropCount();
  expect([0, 5, 5, 12].map((seen) => count.since(seen))).toEqual([0, 5, 0, 7]);
});

test("a drop count that is older than the last is no loss", () => {
  const count = new DropCount();
  expect([9, 7, 9, 10].map((seen) => count.since(seen))).toEqual([9, 0, 0, 1]);
});

test("a drop count goes on beyond its 32 bits", () => {
  const count = new DropCount();
  expect([2 ** 31 - 1, 2 ** 32 - 2, 3].map((seen) => count.since(seen))).toEqual(
    [2 ** 31 - 1, 2 ** 31 - 1, 5],
  );
});
