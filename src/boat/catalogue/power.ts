import {
  type CatalogueEntry,
  type CatalogueSignal,
  INSTANCE,
  named,
  optional,
  same,
  states,
} from "./entry.ts";

const DC_DETAIL: readonly CatalogueSignal[] = [
  same("state-of-charge"),
  same("state-of-health"),
  same("time-remaining"),
  same("ripple-voltage"),
  same("capacity", "charge"),
];

/** DC types other than the battery have a group of their own: solar 0 is not battery 0. */
const DC_GROUPS: Readonly<Record<string, string>> = {
  "battery": "battery",
  "alternator": "alternator",
  "converter": "converter",
  "solar-cell": "solar",
  "wind-generator": "wind-generator",
};

/** Batteries, chargers, inverters and what else direct current is told of. */
export const POWER_ENTRIES: readonly CatalogueEntry[] = [
  ...Object.entries(DC_GROUPS).map(([word, group]) => ({
    pgn: 127506,
    when: { type: word },
    group,
    keys: [INSTANCE],
    signals: DC_DETAIL,
  })),
  {
    pgn: 127507,
    group: "charger",
    keys: [INSTANCE],
    signals: [
      same("operating-state"),
      same("charge-mode"),
      same("enabled"),
      ...optional(
        named("equalisation-pending", "equalisation-due", "state"),
        same("equalisation-time-remaining", "time-remaining"),
      ),
    ],
  },
  {
    pgn: 127508,
    group: "battery",
    keys: [INSTANCE],
    signals: [same("voltage"), same("current"), same("temperature")],
  },
  {
    pgn: 127509,
    group: "inverter",
    keys: [INSTANCE],
    signals: [same("operating-state"), same("enabled")],
  },
  {
    pgn: 127510,
    group: "charger",
    keys: [INSTANCE],
    signals: optional(
      same("charge-current-limit", "share"),
      ...states("charging-algorithm", "estimated-temperature", "equalise-once", "overcharge"),
      same("equalisation-time", "time-remaining"),
    ),
  },
  {
    pgn: 127511,
    group: "inverter",
    keys: [INSTANCE],
    signals: optional(same("load-sense", "state"), same("load-sense-threshold", "power")),
  },
  {
    pgn: 127513,
    group: "battery",
    keys: [INSTANCE],
    signals: optional(
      ...states("battery-type", "nominal-voltage", "chemistry", "supports-equalisation"),
      named("capacity", "nominal-capacity", "charge"),
      same("charge-efficiency", "share"),
      same("peukert-exponent", "factor"),
    ),
  },
  {
    pgn: 127750,
    group: "converter",
    keys: [INSTANCE],
    signals: [
      same("operating-state"),
      ...states("temperature-state", "overload-state", "low-dc-voltage-state", "ripple-state"),
    ],
  },
  {
    pgn: 127751,
    group: "dc-connection",
    keys: [INSTANCE],
    signals: [same("voltage"), same("current")],
  },
];
