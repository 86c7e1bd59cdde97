import { type CatalogueEntry, named, same, states } from "./entry.ts";

const ENGINE = {
  group: "engine",
  kindredGroups: ["generator"],
  keys: [],
  by: "address",
} as const;

/** What other controllers than the engine's may say too. */
const ANY_CONTROLLER = { ...ENGINE, elseGroup: "controller" } as const;

/** Engines that speak J1939: the same quantities as on NMEA 2000, and some that only they tell. */
export const J1939_ENGINE_ENTRIES: readonly CatalogueEntry[] = [
  { pgn: 61443, ...ENGINE, signals: [named("throttle", "accelerator", "share"), same("load")] },
  {
    pgn: 61444,
    ...ENGINE,
    signals: [same("torque-demand", "torque"), same("torque"), same("speed")],
  },
  { pgn: 65253, ...ENGINE, signals: [same("hours")] },
  {
    pgn: 65262,
    ...ENGINE,
    signals: [
      same("coolant-temperature"),
      same("fuel-temperature", "engine-temperature"),
      same("oil-temperature"),
      same("turbocharger-oil-temperature", "oil-temperature"),
      same("intercooler-temperature", "engine-temperature"),
    ],
  },
  {
    pgn: 65263,
    ...ENGINE,
    signals: [
      same("fuel-pressure"),
      same("oil-level", "level"),
      same("oil-pressure"),
      same("crankcase-pressure", "low-pressure"),
      same("coolant-pressure"),
      same("coolant-level", "level"),
    ],
  },
  { pgn: 65266, ...ENGINE, signals: [same("fuel-rate"), same("throttle", "share")] },
  {
    pgn: 65269,
    ...ANY_CONTROLLER,
    signals: [
      same("atmospheric-pressure"),
      same("ambient-temperature", "temperature"),
      same("air-inlet-temperature", "engine-temperature"),
    ],
  },
  {
    pgn: 65270,
    ...ENGINE,
    signals: [
      same("boost-pressure"),
      same("manifold-temperature", "engine-temperature"),
      // Absolute, unlike the others.
      named("air-inlet-pressure", "air-inlet-absolute-pressure", "atmospheric-pressure"),
      same("air-filter-pressure", "low-pressure"),
      same("exhaust-temperature"),
    ],
  },
  {
    pgn: 65271,
    ...ANY_CONTROLLER,
    signals: [
      same("battery-current", "current"),
      same("alternator-current", "current"),
      same("alternator-voltage"),
      same("battery-voltage", "voltage"),
      same("key-switch-voltage", "voltage"),
    ],
  },
  {
    pgn: 65272,
    group: "gearbox",
    namedLike: "engine",
    keys: [],
    by: "bus",
    signals: [
      same("clutch-pressure", "gearbox-oil-pressure"),
      same("oil-level", "level"),
      same("filter-pressure", "low-pressure"),
      same("oil-pressure", "gearbox-oil-pressure"),
      same("oil-temperature"),
    ],
  },
  {
    pgn: 65276,
    ...ANY_CONTROLLER,
    signals: [
      named("fuel-level-1", "fuel-level", "level"),
      same("fuel-level-2", "level"),
      same("fuel-filter-pressure", "low-pressure"),
      same("oil-filter-pressure", "low-pressure"),
    ],
  },
  {
    pgn: 65226,
    ...ANY_CONTROLLER,
    troubleCodes: true,
    signals: states("protect-lamp", "amber-warning-lamp", "red-stop-lamp", "malfunction-lamp"),
  },
];
