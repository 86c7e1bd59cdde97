import { nearestName } from "../ground/spelling.ts";
import type { UnitCode } from "./codes.ts";
import { type Dimension, DIMENSIONS } from "./dimension.ts";
import type { Scale } from "./scale.ts";

/** A unit in which an owner reads and writes. */
export interface OwnersUnit extends Scale {
  /** As shown: "psi". */
  readonly name: string;
  /** The same unit for other programs. */
  readonly ucum: string;
  /** Decimals that make sense for a person. */
  readonly decimals: number;
  /** Other ways to write it; upper and lower case count for nothing unless they tell two apart. */
  readonly spellings: readonly string[];
}

/**
 * Sources of factors: "exact" by definition in the SI brochure (BIPM, 9th edition) or by the
 * international yard, pound and gallon agreements that NIST SP 811, appendix B.8 lists; "SP 811"
 * for a rounded figure from that list. All are held against GNU units and UCUM in
 * `tests/outside/units.test.ts`.
 */
export const OWNERS_UNITS: readonly OwnersUnit[] = [
  ...of("pressure", [
    ["Pa", "Pa", 1, 0, ["pascal"]], // exact
    ["kPa", "kPa", 1000, 0, []], // exact
    ["hPa", "hPa", 100, 0, []], // exact
    ["bar", "bar", 100_000, 2, ["bars"]], // exact
    ["mbar", "mbar", 100, 0, ["mb", "millibar", "millibars"]], // exact
    // 0.45359237 kg × 9.80665 m/s² / (0.0254 m)², exact before rounding to a double
    ["psi", "[psi]", 6894.757293168362, 0, ["lbf/in2", "lb/in2", "psig"]],
    ["inHg", "[in_i'Hg]", 3386.389, 2, ["in-Hg", "in Hg", '"Hg']], // SP 811, conventional inch
  ]),
  ...of("temperature", [
    ["°C", "Cel", 1, 1, ["C", "degC", "deg C", "Cel", "celsius", "℃", "ºC"]], // exact
    ["°F", "[degF]", 5 / 9, 0, ["F", "degF", "deg F", "fahrenheit", "℉", "ºF"], 32], // exact
    ["K", "K", 1, 1, ["kelvin"], 273.15], // exact
  ]),
  ...of("voltage", [
    ["V", "V", 1, 2, ["volt", "volts"]],
    ["mV", "mV", 0.001, 0, ["millivolt", "millivolts"]],
  ]),
  ...of("current", [
    ["A", "A", 1, 1, ["amp", "amps", "ampere", "amperes"]],
    ["mA", "mA", 0.001, 0, []],
  ]),
  ...of("charge", [
    ["Ah", "A.h", 1, 0, ["A.h", "A h", "amp-hours", "amp hours", "ampere hours"]],
  ]),
  ...of("power", [
    ["W", "W", 1, 0, ["watt", "watts"]],
    ["kW", "kW", 1000, 1, ["kilowatt", "kilowatts"]],
  ]),
  ...of("rotation", [
    ["rpm", "1/min", 1, 0, ["1/min", "/min", "r/min", "rev/min"]],
  ]),
  ...of("flow", [
    ["L/h", "L/h", 1, 1, ["L/hr", "lph", "litres/h", "liters/h"]],
    ["US gal/h", "[gal_us]/h", 3.785411784, 1, ["US gal/hr", "US gph", "US gallons/h"]], // exact
    ["imp gal/h", "[gal_br]/h", 4.54609, 1, [ // exact
      "imp gal/hr",
      "imp gph",
      "imp gallons/h",
      "imp. gal/h",
      "UK gal/h",
    ]],
  ]),
  ...of("volume", [
    ["L", "L", 1, 0, ["litre", "litres", "liter", "liters", "ℓ"]],
    ["US gal", "[gal_us]", 3.785411784, 0, ["US gallon", "US gallons"]], // exact: 231 in³
    ["imp gal", "[gal_br]", 4.54609, 0, [ // exact
      "imp gallon",
      "imp gallons",
      "imp. gal",
      "UK gal",
      "UK gallons",
      "imperial gallons",
    ]],
    ["m³", "m3", 1000, 2, ["m3"]], // exact
  ]),
  ...of("share", [["%", "%", 1, 0, ["percent", "per cent"]]]),
  ...of("length", [
    ["m", "m", 1, 1, ["metre", "metres", "meter", "meters"]],
    ["ft", "[ft_i]", 0.3048, 1, ["foot", "feet"]], // exact
    ["fathom", "[fth_i]", 1.8288, 1, ["fathoms", "ftm"]], // exact: 6 ft
    ["km", "km", 1000, 2, []],
    ["nmi", "[nmi_i]", 1852, 2, ["nm", "NM", "nautical miles"]], // exact
  ]),
  ...of("speed", [
    ["m/s", "m/s", 1, 1, []],
    ["kn", "[kn_i]", 1852 / 3600, 1, ["kt", "kts", "knot", "knots"]], // exact
    ["km/h", "km/h", 1 / 3.6, 1, ["kmh", "kph", "km/hr"]], // exact
    ["mph", "[mi_i]/h", 0.44704, 1, ["mi/h"]], // exact
  ]),
  ...of("angle", [
    ["°", "deg", 1, 0, ["deg", "degree", "degrees", "º"]],
    ["rad", "rad", 180 / Math.PI, 3, ["radian", "radians"]],
  ]),
  ...of("turn", [
    ["°/s", "deg/s", 1, 1, ["deg/s"]],
    ["°/min", "deg/min", 1 / 60, 0, ["deg/min"]],
  ]),
  ...of("time", [
    ["s", "s", 1, 0, ["sec", "secs", "second", "seconds"]],
    ["ms", "ms", 0.001, 0, ["millisecond", "milliseconds"]],
    ["min", "min", 60, 0, ["mins", "minute", "minutes"]],
    ["h", "h", 3600, 1, ["hr", "hrs", "hour", "hours"]],
    ["d", "d", 86_400, 1, ["day", "days"]],
  ]),
  ...of("frequency", [
    ["per hour", "1/h", 1, 0, ["1/h", "/h", "per h", "an hour"]],
    ["Hz", "Hz", 3600, 1, ["hertz"]], // exact
  ]),
];

type Row = [name: string, ucum: string, factor: number, decimals: number, string[], zero?: number];

function of(dimension: Dimension, rows: readonly Row[]): OwnersUnit[] {
  return rows.map(([name, ucum, factor, decimals, spellings, zero]) => ({
    name,
    dimension,
    ucum,
    factor,
    decimals,
    spellings,
    ...(zero === undefined ? {} : { zero }),
  }));
}

/** Ways to write a unit that leave open which one is meant, and what to write instead. */
const AMBIGUOUS: ReadonlyMap<string, readonly string[]> = new Map([
  ["gal", ["US gal", "imp gal"]],
  ["gallon", ["US gal", "imp gal"]],
  ["gallons", ["US gal", "imp gal"]],
  ["gal/h", ["US gal/h", "imp gal/h"]],
  ["gal/hr", ["US gal/h", "imp gal/h"]],
  ["gph", ["US gal/h", "imp gal/h"]],
]);

const exact = new Map<string, OwnersUnit>();
const anyCase = new Map<string, OwnersUnit>();
for (const unit of OWNERS_UNITS) {
  for (const spelling of [unit.name, ...unit.spellings]) {
    exact.set(spelling, unit);
    // What is written exactly as in the table wins.
    if (!anyCase.has(spelling.toLowerCase())) anyCase.set(spelling.toLowerCase(), unit);
  }
}

/** The unit that a spelling means, or undefined. */
export function findUnit(spelling: string): OwnersUnit | undefined {
  return exact.get(spelling) ?? anyCase.get(spelling.toLowerCase());
}

/** The names of the units that a spelling could mean; empty where it is unknown. */
export function ambiguousUnit(spelling: string): readonly string[] {
  return AMBIGUOUS.get(spelling.toLowerCase()) ?? [];
}

export function unitsOf(dimension: Dimension): OwnersUnit[] {
  return OWNERS_UNITS.filter((unit) => unit.dimension === dimension);
}

/** The unit that a misspelled one was probably meant to be. */
export function nearestUnit(spelling: string, dimension?: Dimension): OwnersUnit | undefined {
  const candidates = dimension === undefined ? OWNERS_UNITS : unitsOf(dimension);
  const name = nearestName(spelling, candidates.flatMap((unit) => [unit.name, ...unit.spellings]));
  return name === undefined ? undefined : findUnit(name);
}

/** The unit of a signal code in which an owner reads who said nothing else. */
const PLAIN_UNITS: Readonly<Record<Exclude<UnitCode, "" | "1">, string>> = {
  "Pa": "kPa",
  "Cel": "°C",
  "V": "V",
  "A": "A",
  "A.h": "Ah",
  "W": "W",
  "1/min": "rpm",
  "L/h": "L/h",
  "L": "L",
  "%": "%",
  "m": "m",
  "m/s": "kn",
  "deg": "°",
  "deg/s": "°/s",
  "s": "s",
  "min": "min",
  "h": "h",
  "1/h": "per hour",
  "Hz": "Hz",
};

/** How an owner reads: dimension → name of a unit of `OWNERS_UNITS`. */
export type OwnersUnits = Readonly<Partial<Record<Dimension, string>>>;

/** The unit in which this owner reads a signal; undefined for plain numbers and words. */
export function ownersUnitFor(code: UnitCode, owners: OwnersUnits): OwnersUnit | undefined {
  if (code === "" || code === "1") return undefined;
  const plain = exact.get(PLAIN_UNITS[code]);
  // Hours, minutes and seconds are three signal units of one dimension: each keeps its own.
  if (plain === undefined || plain.dimension === "time") return plain;
  return exact.get(owners[plain.dimension] ?? plain.name) ?? plain;
}

/** The names of a dimension's units, for a sentence: `Pa, kPa, …`. */
export function unitNames(dimension: Dimension): string {
  return unitsOf(dimension).map((unit) => unit.name).join(", ") || DIMENSIONS[dimension].base;
}
