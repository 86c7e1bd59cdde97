import type { Key } from "./boat.ts";

/**
 * What the fields of messages are called as signals. A pure table: PGN and field become group,
 * subject and quantity (contract §3). Fields that are not named here make no signal.
 */
export interface CatalogueEntry {
  readonly pgn: number;
  /** Holds only for messages in which this field says this word; the first entry that holds counts. */
  readonly when?: { readonly field: string; readonly word: string };
  readonly group: string;
  /** Other groups of the boat file whose subjects send this message too. */
  readonly kindredGroups?: readonly string[];
  /**
   * Fields that tell one subject from another, in the order of the name that the subject has while
   * the boat file gives none ("fuel-0").
   */
  readonly keys: readonly KeyField[];
  /** Name of the only subject; groups without keys and without this have none. */
  readonly only?: string;
  readonly signals: readonly CatalogueSignal[];
}

export interface KeyField {
  readonly field: string;
  /** The part of a boat file's key that it answers to. */
  readonly part: keyof Key & ("instance" | "fluid" | "place");
}

export interface CatalogueSignal {
  readonly field: string;
  /** Bits of a status word become `status/BIT`, whatever stands here. */
  readonly quantity: string;
  /** Sort of quantity in `QUANTITIES`, where it is not called like the quantity. */
  readonly sort?: string;
  /** Where it is not the entry's. */
  readonly group?: string;
  /**
   * Number of an indicator of a switch bank: the boat file can give it a subject of its own, and
   * while it says nothing it makes no signal.
   */
  readonly indicator?: number;
}

const INSTANCE: KeyField = { field: "instance", part: "instance" };

const ENGINE = { group: "engine", kindredGroups: ["generator"], keys: [INSTANCE] };

const DC_DETAIL: readonly CatalogueSignal[] = [
  same("state-of-charge"),
  same("state-of-health"),
  same("time-remaining"),
  same("ripple-voltage"),
  { field: "capacity", quantity: "capacity", sort: "charge" },
];

/** DC types other than the battery have a group of their own: solar 0 is not battery 0. */
const DC_GROUPS: Readonly<Record<string, string>> = {
  "battery": "battery",
  "alternator": "alternator",
  "converter": "converter",
  "solar-cell": "solar",
  "wind-generator": "wind-generator",
};

/** Indicators of one bank, IEC 61162-3 (PGN 127501). */
const INDICATORS = 28;

export const CATALOGUE: readonly CatalogueEntry[] = [
  {
    pgn: 127488,
    ...ENGINE,
    signals: [same("speed"), same("boost-pressure"), same("trim")],
  },
  {
    pgn: 127489,
    ...ENGINE,
    signals: [
      same("oil-pressure"),
      same("oil-temperature"),
      same("coolant-temperature"),
      same("alternator-voltage"),
      same("fuel-rate"),
      same("hours"),
      same("coolant-pressure"),
      same("fuel-pressure"),
      { field: "status-1", quantity: "status" },
      { field: "status-2", quantity: "status" },
      same("load"),
      same("torque"),
    ],
  },
  ...Object.entries(DC_GROUPS).map(([word, group]) => ({
    pgn: 127506,
    when: { field: "type", word },
    group,
    keys: [INSTANCE],
    signals: DC_DETAIL,
  })),
  {
    pgn: 127507,
    group: "charger",
    keys: [INSTANCE],
    signals: [same("operating-state"), same("charge-mode"), same("enabled")],
  },
  {
    pgn: 127508,
    group: "battery",
    keys: [INSTANCE],
    signals: [same("voltage"), same("current"), same("temperature")],
  },
  {
    pgn: 127505,
    group: "tank",
    keys: [{ field: "fluid", part: "fluid" }, INSTANCE],
    signals: [same("level"), { field: "capacity", quantity: "capacity", sort: "volume" }],
  },
  {
    pgn: 127501,
    group: "switch",
    keys: [INSTANCE],
    signals: Array.from({ length: INDICATORS }, (_, i) => ({
      field: `indicator-${i + 1}`,
      quantity: String(i + 1),
      sort: "state",
      indicator: i + 1,
    })),
  },
  {
    pgn: 129025,
    group: "position",
    keys: [],
    signals: [same("latitude"), same("longitude")],
  },
  course("true", "over-ground"),
  course("magnetic", "over-ground-magnetic"),
  { pgn: 129026, group: "speed", keys: [], signals: [wayOverGround()] },
  {
    pgn: 128267,
    group: "sounder",
    keys: [],
    only: "main",
    signals: [same("depth")],
  },
  wind("apparent", "apparent-speed", "apparent-angle"),
  wind("true-boat", "true-speed", "true-angle"),
  wind("true-water", "true-water-speed", "true-water-angle"),
  wind("true-north", "true-ground-speed", "true-ground-direction"),
  wind("magnetic-north", "magnetic-ground-speed", "magnetic-ground-direction"),
];

/** A field that is called like its quantity. */
function same(name: string): CatalogueSignal {
  return { field: name, quantity: name };
}

function wayOverGround(): CatalogueSignal {
  return { field: "speed-over-ground", quantity: "over-ground", sort: "way", group: "speed" };
}

function course(reference: string, quantity: string): CatalogueEntry {
  return {
    pgn: 129026,
    when: { field: "course-reference", word: reference },
    group: "course",
    keys: [],
    signals: [{ field: "course-over-ground", quantity, sort: "angle" }, wayOverGround()],
  };
}

function wind(reference: string, speed: string, angle: string): CatalogueEntry {
  return {
    pgn: 130306,
    when: { field: "wind-reference", word: reference },
    group: "wind",
    keys: [],
    signals: [
      { field: "wind-speed", quantity: speed, sort: "wind" },
      { field: "wind-angle", quantity: angle, sort: "angle" },
    ],
  };
}
