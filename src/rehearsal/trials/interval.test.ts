import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { countInterval, shareInterval } from "./interval.ts";

describe("the interval of a share", () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.4.2, "Confidence intervals for small
  // sample sizes": 4 of 20, 90 %, pL = 0.071354 and pU = 0.401029, which it finds by trying
  // (the last digit of its upper end is one too many).
  test("is the one that the NIST handbook works out", () => {
    const { from, to } = shareInterval(4, 20, 0.05);
    expect(from).toBeCloseTo(0.071354, 5);
    expect(to).toBeCloseTo(0.401029, 5);
  });

  // Of none or all the ends have a closed form: 1 − 0.025^(1/n).
  test.each([1, 10, 300])("of none or all of %i has the end of the closed form", (count) => {
    const end = 1 - 0.025 ** (1 / count);
    expect(shareInterval(0, count).from).toBe(0);
    expect(shareInterval(0, count).to).toBeCloseTo(end, 9);
    expect(shareInterval(count, count).from).toBeCloseTo(1 - end, 9);
    expect(shareInterval(count, count).to).toBe(1);
  });

  test("holds what was seen, and is narrower where more was looked at", () => {
    fc.assert(fc.property(fc.nat(200), fc.nat(200), (found, more) => {
      const count = found + more + 1;
      const { from, to } = shareInterval(found, count);
      expect(from).toBeLessThanOrEqual(found / count);
      expect(to).toBeGreaterThanOrEqual(found / count);
      const wider = shareInterval(found * 4, count * 4);
      expect(wider.to - wider.from).toBeLessThan(to - from);
    }));
  });
});

describe("the interval of a count", () => {
  // Half of the critical values of chi-square with 2n (lower, 0.025) and 2n + 2 (upper, 0.975)
  // degrees of freedom, NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.4.
  test.each([
    [0, 0, 7.378],
    [1, 0.051, 11.143],
    [2, 0.484, 14.449],
    [5, 3.247, 23.337],
    [10, 9.591, 36.781],
    [25, 32.357, 73.81],
  ])("of %i agrees with the NIST table of chi-square", (found, lower, upper) => {
    const { from, to } = countInterval(found);
    expect(2 * from).toBeCloseTo(lower, 3);
    expect(2 * to).toBeCloseTo(upper, 3);
  });

  test("holds what was seen", () => {
    fc.assert(fc.property(fc.nat(500), (found) => {
      const { from, to } = countInterval(found);
      expect(from).toBeLessThanOrEqual(found);
      expect(to).toBeGreaterThan(found);
    }));
  });
});
