import { describe, expect, test } from "vitest";
import { decimalsFor, rounded, roundedText } from "./decimals.ts";

describe("decimals shown", () => {
  test.each([
    ["100 Pa", 100, 0, 0],
    ["a quarter of a revolution a minute", 0.25, 0, 2],
    ["0.1 K shown in degrees Celsius, because of 273.15", 0.1, -273.15, 2],
    ["0.01 K shown in degrees Celsius", 0.01, -273.15, 2],
    ["0.03125 °C from −273", 0.03125, -273, 5],
    ["0.004 % of a tank", 0.004, 0, 3],
    ["1e-7 degrees of latitude", 1e-7, 0, 7],
    ["0.0001 rad shown in degrees has no end: two digits beyond it", 0.0001 * 180 / Math.PI, 0, 5],
    ["a second shown in hours has no end", 1 / 3600, 0, 6],
    ["0.05 h", 0.05, 0, 2],
    ["codes and bits", 1, 0, 0],
    ["a resolution finer than nine decimals", 1e-16, 0, 9],
  ])("%s", (_what, resolution, offset, expected) => {
    expect(decimalsFor(resolution, offset)).toBe(expected);
  });

  test("what binary fractions leave over is not shown", () => {
    expect(rounded(330.1 - 273.15, 2)).toBe(56.95);
    expect(roundedText(330.1 - 273.15, 2)).toBe("56.95");
  });

  test("text has no zeros at its end, no exponent and no negative zero", () => {
    expect(roundedText(12.5, 3)).toBe("12.5");
    expect(roundedText(345000, 0)).toBe("345000");
    expect(roundedText(0.0000001, 7)).toBe("0.0000001");
    expect(roundedText(-0.001, 2)).toBe("0");
    expect(Object.is(rounded(-0.001, 2), 0)).toBe(true);
    expect(roundedText(100, 2)).toBe("100");
  });
});
