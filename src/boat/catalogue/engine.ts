import { type CatalogueEntry, INSTANCE, named, same } from "./entry.ts";

const ENGINE = { group: "engine", kindredGroups: ["generator"], keys: [INSTANCE] };

/** Engines and gearboxes on NMEA 2000. */
export const ENGINE_ENTRIES: readonly CatalogueEntry[] = [
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
      named("status-1", "status"),
      named("status-2", "status"),
      same("load"),
      same("torque"),
    ],
  },
  {
    pgn: 127493,
    group: "gearbox",
    namedLike: "engine",
    keys: [INSTANCE],
    signals: [
      same("gear"),
      same("oil-pressure", "gearbox-oil-pressure"),
      same("oil-temperature"),
      same("status"),
    ],
  },
  {
    pgn: 127497,
    ...ENGINE,
    signals: [
      named("trip-fuel-used", "trip-fuel", "volume"),
      named("fuel-rate-average", "trip-fuel-rate", "fuel-rate"),
      named("fuel-rate-economy", "economy-fuel-rate", "fuel-rate"),
      named("fuel-economy", "present-economy-fuel-rate", "fuel-rate"),
    ],
  },
  {
    pgn: 127498,
    ...ENGINE,
    signals: [same("rated-speed", "speed")],
  },
];
