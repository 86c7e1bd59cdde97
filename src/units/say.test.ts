import { describe, expect, test } from "vitest";
import { say, sayDifference } from "./say.ts";

describe("a value in words", () => {
  test("is in the owner's unit, with thousands set apart", () => {
    expect(say(124_106, "Pa", { pressure: "psi" })).toBe("18 psi");
    expect(say(1800, "1/min", {})).toBe("1,800 rpm");
    expect(say(71.111, "Cel", { temperature: "°F" })).toBe("160 °F");
    expect(say(1514.16, "L", { volume: "US gal" })).toBe("400 US gal");
  });

  test("has plain units where the owner said nothing", () => {
    expect(say(345_000, "Pa", {})).toBe("345 kPa");
    expect(say(12.6, "V", {})).toBe("12.60 V");
    expect(say(1234.5, "h", {})).toBe("1,234.5 h");
    expect(say(3.0867, "m/s", {})).toBe("6.0 kn");
    expect(say(3, "1", {})).toBe("3");
    expect(say(4, "1/h", {})).toBe("4 per hour");
  });

  test("keeps the degree sign at an angle's number", () => {
    expect(say(50.4, "deg", {}, 1)).toBe("50.4°");
    expect(say(-0.2, "deg", {})).toBe("0°");
  });

  test("is no reading where there is none", () => {
    expect(say(null, "V", {})).toBe("no reading");
    expect(say(NaN, "V", {})).toBe("no reading");
  });

  test("that is a difference has no zero point", () => {
    expect(sayDifference(48_263, "Pa", { pressure: "psi" })).toBe("7 psi");
    expect(sayDifference(5, "Cel", { temperature: "°F" })).toBe("9 °F");
  });

  test("groups long numbers and spares fractions", () => {
    expect(say(-1234567, "m", {}, 0)).toBe("-1,234,567 m");
    expect(say(1234.56789, "m", {}, 5)).toBe("1,234.56789 m");
  });
});
