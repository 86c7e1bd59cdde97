import { UcumLhcUtils } from "@lhncbc/ucum-lhc";
import { describe, expect, test } from "vitest";
import { parseDifference, parseQuantity } from "../../src/units/quantity.ts";
import { convert, scaleOf } from "../../src/units/scale.ts";
import { DIMENSIONS } from "../../src/units/dimension.ts";
import { OWNERS_UNITS } from "../../src/units/units.ts";
import { toolIsInstalled } from "../support/installed-tool.ts";

function expectNear(found: number, wanted: number, unit = "") {
  // The conventional inch of mercury differs in its sixth digit from source to source.
  const relative = unit.endsWith("inHg") ? 4e-6 : 1e-12;
  expect(Math.abs(found - wanted)).toBeLessThanOrEqual(relative * Math.max(1, Math.abs(wanted)));
}

describe("every owner's unit agrees with UCUM (@lhncbc/ucum-lhc)", () => {
  const ucum = UcumLhcUtils.getInstance();

  test.each(OWNERS_UNITS.map((unit) => [unit.name, unit] as const))("%s", (_, unit) => {
    const base = DIMENSIONS[unit.dimension].base;
    for (const value of [-40, 0, 1, 160, 2600]) {
      const theirs = ucum.convertUnitTo(unit.ucum, value, base);
      expect(theirs.status).toBe("succeeded");
      expectNear(convert(value, unit, scaleOf(base)), Number(theirs.toVal), unit.name);
    }
  });

  test.each([["rad", "deg"], ["rad/s", "deg/s"], ["K", "Cel"], ["d", "h"], ["Hz", "1/h"]] as const)(
    "%s on the wire in %s",
    (from, to) => {
      const theirs = ucum.convertUnitTo(from, 1.25, to);
      expectNear(convert(1.25, scaleOf(from), scaleOf(to)), Number(theirs.toVal));
    },
  );
});

describe.skipIf(!toolIsInstalled("units"))("owners' units agree with GNU units 2.22", () => {
  // Left: as an owner writes it. Right: the same in the language of `units`; a turn is left out of
  // `rpm`, which counts radians there.
  test.each([
    ["1 psi", "1 psi", "Pa"],
    ["30 psi", "30 psi", "Pa"],
    ["1 inHg", "1 inHg", "Pa"],
    ["1 bar", "1 bar", "Pa"],
    ["1013.25 hPa", "1013.25 hPa", "Pa"],
    ["1013 mbar", "1013 mbar", "Pa"],
    ["160 °F", "tempF(160)", "tempC"],
    ["212 °F", "tempF(212)", "tempC"],
    ["344.2611 K", "tempK(344.2611)", "tempC"],
    ["1 US gal", "1 gallon", "L"],
    ["1 imp gal", "1 brgallon", "L"],
    ["5 US gal/h", "5 gallon/hour", "L/hour"],
    ["5 imp gal/h", "5 brgallon/hour", "L/hour"],
    ["10 ft", "10 ft", "m"],
    ["1 fathom", "1 fathom", "m"],
    ["3 nmi", "3 nauticalmile", "m"],
    ["6 kn", "6 knot", "m/s"],
    ["20 km/h", "20 km/hour", "m/s"],
    ["20 mph", "20 mph", "m/s"],
    ["1 rad", "1 radian", "degree"],
    ["400 Ah", "400 A hour", "A hour"],
    ["2 d", "2 day", "s"],
  ])("%s", async (ours, theirs, base) => {
    const read = parseQuantity(ours);
    expectNear(read.ok ? read.value : NaN, await gnuUnits(theirs, base), ours);
  });

  test.each([["5 °F", "5 degF", "K"], ["2 psi", "2 psi", "Pa"]])(
    "a difference of %s",
    async (ours, theirs, base) => {
      const read = parseDifference(ours);
      expectNear(read.ok ? read.value : NaN, await gnuUnits(theirs, base));
    },
  );
});

async function gnuUnits(from: string, to: string): Promise<number> {
  const { stdout } = await new Deno.Command("units", { args: ["-t", "-d", "16", from, to] })
    .output();
  return Number(new TextDecoder().decode(stdout));
}
