import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseDifference, parseQuantity, parseRange, valueIn } from "./quantity.ts";
import { OWNERS_UNITS } from "./units.ts";

function value(text: string): number {
  const read = parseQuantity(text);
  if (!read.ok) throw new Error(`${read.found}: ${read.expected}`);
  return read.value;
}

describe("a quantity", () => {
  test("is a number and a unit, with or without a space between them", () => {
    expect(parseQuantity("2600 rpm")).toMatchObject({
      value: 2600,
      code: "1/min",
      dimension: "rotation",
      unit: { name: "rpm" },
    });
    expect(value("12V")).toBe(12);
    expect(value(" 400  L ")).toBe(400);
    expect(value("50.4°")).toBe(50.4);
    expect(value("-7.9°")).toBe(-7.9);
    expect(value("\u22127.9°")).toBe(-7.9);
  });

  test("may be spelled in the usual ways", () => {
    for (const text of ["12 v", "12 volts", "12 Volt"]) expect(value(text)).toBe(12);
    for (const text of ["100 kpa", "100 kPa", "1 Bar", "1000 mbar"]) {
      expect(value(text)).toBe(100_000);
    }
    for (const text of ["212 °F", "212 F", "212 degF", "212 deg f"]) {
      expect(value(text)).toBeCloseTo(100, 9);
    }
    for (const text of ["6 kn", "6 kts", "6 knots"]) expect(value(text)).toBeCloseTo(3.08667, 5);
  });

  test("has a known unit for every spelling in the table", () => {
    for (const unit of OWNERS_UNITS) {
      for (const spelling of [unit.name, ...unit.spellings]) {
        expect(parseQuantity(`1 ${spelling}`)).toMatchObject({ ok: true, unit });
      }
    }
  });

  test("without a unit is explained with an example of the right kind", () => {
    expect(parseQuantity("2600", "rotation")).toEqual({
      ok: false,
      found: "2600",
      expected: "a speed of rotation with its unit, such as 2600 rpm",
    });
  });

  test("of another kind says which kind it is", () => {
    expect(parseQuantity("12 V", "rotation")).toEqual({
      ok: false,
      found: "12 V",
      expected: "a speed of rotation, such as 2600 rpm; 12 V is a voltage",
    });
  });

  test("in bare gallons asks whose gallon", () => {
    expect(parseQuantity("100 gal", "volume")).toMatchObject({
      expected: "either US gal or imp gal",
    });
  });

  test("with a misspelled unit gets the nearest one", () => {
    expect(parseQuantity("10 pssi")).toMatchObject({ nearest: "10 psi" });
    expect(parseQuantity("2600 rmp", "rotation")).toMatchObject({ nearest: "2600 rpm" });
  });

  test("with a comma in its number is refused", () => {
    expect(parseQuantity("1,800 rpm", "rotation")).toMatchObject({
      ok: false,
      expected: expect.stringContaining("without a comma"),
    });
  });

  test("in hours can be had in minutes", () => {
    const read = parseQuantity("2 h");
    expect(read.ok && valueIn(read, "min")).toBe(120);
  });

  test("never throws, whatever the text", () => {
    fc.assert(fc.property(fc.string({ unit: "grapheme" }), (text) => {
      const read = parseQuantity(text);
      if (read.ok) expect(Number.isFinite(read.value)).toBe(true);
      else expect(read.found).toBe(text);
      parseRange(text, "current", "3..8 A");
    }));
  });
});

describe("a difference", () => {
  test("of temperatures has no zero point", () => {
    const read = parseDifference("5 °F", "temperature");
    expect(read.ok && read.value).toBeCloseTo(2.7778, 4);
    expect(parseDifference("3 K")).toMatchObject({ value: 3, code: "Cel" });
  });

  test("of pressures is converted like a pressure", () => {
    const read = parseDifference("2 psi");
    expect(read.ok && read.value).toBeCloseTo(13789.5, 1);
  });
});

describe("a range", () => {
  test("has one unit for both ends", () => {
    expect(parseRange("3..8 A", "current", "3..8 A")).toEqual({
      ok: true,
      range: { low: 3, high: 8, code: "A" },
    });
    expect(parseRange("4..120 s", "time", "4..120 s")).toMatchObject({
      range: { low: 4, high: 120 },
    });
    expect(parseRange("0.5 .. 1.5 A", "current", "3..8 A")).toMatchObject({
      range: { low: 0.5, high: 1.5 },
    });
  });

  test("is refused without its unit, without its end, or the wrong way round", () => {
    for (const text of ["3..8", "3..", "..8 A", "8..3 A", "3-8 A", "3 A"]) {
      expect(parseRange(text, "current", "3..8 A")).toMatchObject({ ok: false, found: text });
    }
  });
});
