import { describe, expect, test } from "vitest";
import { decimalsFor, roundedText, roundTo } from "./rounding.ts";

describe("decimals of a field", () => {
  test.each([
    ["0.25 rpm", 0.25, 0, 2],
    ["100 Pa", 100, 0, 0],
    ["0.1 K shown in Cel", 0.1, -273.15, 2],
    ["0.01 K shown in Cel", 0.01, -273.15, 2],
    ["1 K with an offset of -40 Cel", 1, -40, 0],
    ["0.03125 °C", 0.03125, -273, 5],
    ["0.004 %", 0.004, 0, 3],
    ["0.05 h", 0.05, 0, 2],
    ["1e-7 degrees of latitude", 1e-7, 0, 7],
    ["1e-16 degrees of latitude, more than nine", 1e-16, 0, 9],
    ["0.0001 rad shown in deg, never whole", 0.0001 * 180 / Math.PI, 0, 5],
    ["1 s shown in h, never whole", 1 / 3600, 0, 6],
    ["a third of a thousand, never whole but coarse", 1000 / 3, 0, 0],
  ])("%s", (_, resolution, offset, decimals) => {
    expect(decimalsFor(resolution, offset)).toBe(decimals);
  });
});

describe("rounding", () => {
  test("drops the noise of binary fractions", () => {
    expect(roundTo(330.1 - 273.15, 2)).toBe(56.95);
    expect(roundTo(56.950000000000045, 2)).toBe(56.95);
    expect(roundTo(0.1 + 0.2, 1)).toBe(0.3);
  });

  test("never gives minus zero", () => {
    expect(Object.is(roundTo(-0.001, 2), 0)).toBe(true);
  });

  test("as text has no zeros at its end, no exponent and no negative zero", () => {
    expect(roundedText(330.1 - 273.15, 2)).toBe("56.95");
    expect(roundedText(12.5, 3)).toBe("12.5");
    expect(roundedText(345_000, 0)).toBe("345000");
    expect(roundedText(0.000_000_1, 7)).toBe("0.0000001");
    expect(roundedText(-0.001, 2)).toBe("0");
    expect(roundedText(100, 2)).toBe("100");
  });
});
