import {
  type CatalogueEntry,
  type CatalogueSignal,
  INSTANCE,
  named,
  optional,
  same,
} from "./entry.ts";

/**
 * Group and quantity of a temperature by its place. A freezer is no cabin: a rule against frost must
 * not ring for it. What lies outside has no subject unless there are several.
 */
const PLACES: Readonly<Record<string, readonly [group: string, quantity: string]>> = {
  "sea": ["sea", "temperature"],
  "outside": ["air", "temperature"],
  "dew-point": ["air", "dew-point"],
  "apparent-wind-chill": ["air", "apparent-wind-chill"],
  "theoretical-wind-chill": ["air", "theoretical-wind-chill"],
  "heat-index": ["air", "heat-index"],
  "engine-room": ["engine-room", "temperature"],
  "inside": ["cabin", "temperature"],
  "main-cabin": ["cabin", "temperature"],
  "live-well": ["well", "temperature"],
  "bait-well": ["well", "temperature"],
  "refrigeration": ["refrigerator", "temperature"],
  "freezer": ["freezer", "temperature"],
  "heating-system": ["heating", "temperature"],
  "exhaust-gas": ["exhaust", "temperature"],
  "shaft-seal": ["shaft-seal", "temperature"],
};

/** Groups in which two places are told apart by their words. */
const SEVERAL_PLACES: ReadonlySet<string> = new Set(["cabin", "well"]);
/** Groups that a boat usually has one of. */
const ONE_OF_A_KIND: ReadonlySet<string> = new Set(["sea", "air", "engine-room"]);

/** Groups where something is kept at a temperature, and says which. */
const KEPT: ReadonlySet<string> = new Set(["cabin", "well", "refrigerator", "freezer", "heating"]);

/** The group of what the boat file calls by a place. */
export function groupOfPlace(place: string): string {
  return PLACES[place]?.[0] ?? "cabin";
}

/** Temperatures that the boat file can tie to an engine: its key, their place and quantity. */
export const TIED_TEMPERATURES = {
  "exhaust": { quantity: "exhaust-temperature", place: "exhaust-gas" },
  "shaft-seal": { quantity: "shaft-seal-temperature", place: "shaft-seal" },
  "engine-room": { quantity: "engine-room-temperature", place: "engine-room" },
} as const;

const PRESSURE = { field: "atmospheric-pressure", quantity: "pressure", group: "air" };
const AIR_PRESSURE: CatalogueSignal = { ...PRESSURE, sort: "atmospheric-pressure" };

export const ENVIRONMENT_ENTRIES: readonly CatalogueEntry[] = [
  {
    pgn: 130310,
    group: "air",
    keys: [],
    signals: [
      { field: "water-temperature", quantity: "temperature", group: "sea" },
      named("outside-temperature", "temperature"),
      AIR_PRESSURE,
    ],
  },
  ...Object.keys(PLACES).flatMap(withoutNumber),
  { pgn: 130311, group: "air", keys: [], signals: [AIR_PRESSURE] },
  ...eachPlace(130312),
  ...eachPlace(130316),
  humidity("inside"),
  humidity("outside"),
  {
    pgn: 130314,
    when: { "pressure-source": "atmospheric" },
    group: "air",
    keys: [{ ...INSTANCE, unsaid: 0 }],
    signals: [same("pressure", "atmospheric-pressure")],
  },
  fluidPressure(130314, "pressure"),
  fluidPressure(130315, "set-pressure"),
  wind("apparent", "apparent-speed", "apparent-angle"),
  wind("true-boat", "true-speed", "true-angle"),
  wind("true-water", "true-water-speed", "true-water-angle"),
  wind("true-north", "true-ground-speed", "true-ground-direction"),
  wind("magnetic-north", "magnetic-ground-speed", "magnetic-ground-direction"),
];

/** What tells one subject of a place from another. */
function keysOf(group: string): CatalogueEntry["keys"] {
  const number = ONE_OF_A_KIND.has(group) ? { ...INSTANCE, unsaid: 0 } : INSTANCE;
  const place = { field: "place", part: "place", unsaid: "always" } as const;
  return SEVERAL_PLACES.has(group) ? [{ field: "place", part: "place" }, number] : [place, number];
}

function eachPlace(pgn: number): CatalogueEntry[] {
  return Object.entries(PLACES).map(([place, [group, quantity]]) => ({
    pgn,
    when: { place },
    group,
    keys: keysOf(group),
    signals: [
      named("temperature", quantity, "temperature"),
      ...(KEPT.has(group) ? optional(same("set-temperature", "temperature")) : []),
    ],
  }));
}

/**
 * 130311 says a place and no number. Its humidity is of a place that it says apart: taken where the
 * temperature is of the same.
 */
function withoutNumber(place: string): CatalogueEntry[] {
  const [group, quantity] = PLACES[place];
  const [placeKey] = keysOf(group);
  const entry = { pgn: 130311, group, keys: group === "sea" || group === "air" ? [] : [placeKey] };
  const signals = [named("temperature", quantity, "temperature"), AIR_PRESSURE];
  const humid = group === "cabin" ? "inside" : place;
  const withHumidity = {
    ...entry,
    when: { place, "humidity-place": humid },
    signals: [...signals, same("humidity")],
  };
  const isHumid = group === "cabin" || place === "outside";
  return [...(isHumid ? [withHumidity] : []), { ...entry, when: { place }, signals }];
}

function humidity(place: string): CatalogueEntry {
  const [group] = PLACES[place];
  return {
    pgn: 130313,
    when: { place },
    group,
    keys: keysOf(group),
    signals: [
      same("humidity"),
      ...(KEPT.has(group) ? optional(same("set-humidity", "humidity")) : []),
    ],
  };
}

/** Of oil, fuel, water and whatever else has a sender of its own. */
function fluidPressure(pgn: number, field: string): CatalogueEntry {
  return {
    pgn,
    group: "fluid-pressure",
    keys: [{ field: "pressure-source", part: "place" }, INSTANCE],
    signals: [same(field, "pressure")],
  };
}

function wind(reference: string, speed: string, angle: string): CatalogueEntry {
  return {
    pgn: 130306,
    when: { "wind-reference": reference },
    group: "wind",
    keys: [],
    signals: [named("wind-speed", speed, "wind"), named("wind-angle", angle, "angle")],
  };
}
