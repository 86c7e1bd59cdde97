import fc from "fast-check";
import { expect, test } from "vitest";
import { pair } from "./pairing.ts";

/** The most pairs there can be, by trying everything. */
function most(table: readonly (readonly boolean[])[], left = 0, used = 0): number {
  if (left === table.length) return 0;
  const without = most(table, left + 1, used);
  return table[left].reduce((best, fits, right) => {
    if (!fits || (used & (1 << right)) !== 0) return best;
    return Math.max(best, 1 + most(table, left + 1, used | (1 << right)));
  }, without);
}

test("as many are paired as can be, each once and only where it fits", () => {
  const table = fc.integer({ min: 0, max: 5 }).chain((width) =>
    fc.array(fc.array(fc.boolean(), { minLength: width, maxLength: width }), { maxLength: 5 })
  );
  fc.assert(fc.property(table, (table) => {
    const width = table[0]?.length ?? 0;
    const pairs = pair(table.length, width, (left, right) => table[left][right]);
    const taken = pairs.filter((right) => right >= 0);
    expect(new Set(taken).size).toBe(taken.length);
    pairs.forEach((right, left) => expect(right < 0 || table[left][right]).toBe(true));
    expect(taken.length).toBe(most(table));
  }));
});
