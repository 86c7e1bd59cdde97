import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Conversion, convert, convertDifference, scaleOf, wireConversion } from "./scale.ts";
import { OWNERS_UNITS } from "./units.ts";

function apply({ zero, factor }: Conversion, value: number): number {
  return (value - zero) * factor;
}

describe("a conversion", () => {
  test("from the wire gives the unit of the signal", () => {
    expect(apply(wireConversion("K", "Cel"), 273.15)).toBe(0);
    expect(apply(wireConversion("rad", "deg"), Math.PI)).toBe(180);
    expect(apply(wireConversion("rad/s", "deg/s"), -Math.PI / 2)).toBe(-90);
    expect(apply(wireConversion("s", "h"), 5400)).toBe(1.5);
    expect(apply(wireConversion("min", "min"), 7)).toBe(7);
    expect(apply(wireConversion("s", "min"), 90)).toBe(1.5);
  });

  test("between temperatures moves the zero, a difference does not", () => {
    expect(convert(25, scaleOf("Cel"), scaleOf("K"))).toBe(298.15);
    expect(convertDifference(25, scaleOf("Cel"), scaleOf("K"))).toBe(25);
  });

  test("there and back is the same value", () => {
    const pairs = OWNERS_UNITS.flatMap((from) =>
      OWNERS_UNITS.filter((to) => to.dimension === from.dimension).map((to) => ({ from, to }))
    );
    fc.assert(fc.property(
      fc.constantFrom(...pairs),
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      ({ from, to }, value) => {
        expect(convert(convert(value, from, to), to, from)).toBeCloseTo(value, 5);
      },
    ));
  });

  test("between different kinds is a mistake of the program", () => {
    expect(() => wireConversion("V", "A")).toThrow(TypeError);
  });
});
