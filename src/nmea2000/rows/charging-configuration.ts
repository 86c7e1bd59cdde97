import type { PgnRow } from "../row.ts";
import { index, inOrder, onOff, reserved, signed, unsigned, words } from "./fields.ts";
import { some } from "./plausible.ts";
import { FIELD_LISTS, FIELD_LISTS_DOUBTFUL } from "./sources.ts";

const onRequest = { transport: "fast-packet", codes: "nmea2000", period: null } as const;

/** How chargers, inverters, batteries and automatic generators are set. */
export const CHARGING_CONFIGURATION_ROWS: readonly PgnRow[] = [
  {
    ...onRequest,
    pgn: 127510,
    title: "charger configuration status",
    length: 10,
    source: FIELD_LISTS_DOUBTFUL,
    fields: inOrder(
      index("instance"),
      index("battery-instance"),
      onOff("enabled"),
      reserved(6),
      unsigned("charge-current-limit", 8, 1, "%"),
      words("charging-algorithm", 4, "trickle", "two-stage", "three-stage"),
      words("charge-mode", 4, "standalone", "primary", "secondary", "echo"),
      words("estimated-temperature", 4, "cold", "warm", "hot"),
      onOff("equalise-once"),
      onOff("overcharge"),
      unsigned("equalisation-time", 16, 1, "min"),
      reserved(16, "reserved-2"),
    ),
  },
  {
    ...onRequest,
    pgn: 127511,
    title: "inverter configuration status",
    length: 8,
    source: FIELD_LISTS_DOUBTFUL,
    fields: inOrder(
      index("instance"),
      index("ac-instance"),
      index("dc-instance"),
      onOff("enabled"),
      reserved(6),
      index("mode"),
      onOff("load-sense"),
      reserved(6, "reserved-2"),
      unsigned("load-sense-threshold", 8, 1, "W"),
      unsigned("load-sense-interval", 8, 1, "s"),
    ),
  },
  {
    ...onRequest,
    pgn: 127512,
    title: "automatic generator configuration status",
    length: 3,
    source: FIELD_LISTS_DOUBTFUL,
    fields: inOrder(index("instance"), index("generator-instance"), index("mode")),
  },
  {
    ...onRequest,
    pgn: 127513,
    title: "battery configuration status",
    length: 8,
    source: `${FIELD_LISTS}; words from memory`,
    fields: inOrder(
      index("instance"),
      words("battery-type", 4, "flooded", "gel", "agm"),
      words("supports-equalisation", 2, "no", "yes"),
      reserved(2),
      words("nominal-voltage", 4, "6-v", "12-v", "24-v", "32-v", "36-v", "42-v", "48-v"),
      words(
        "chemistry",
        4,
        "lead-acid",
        "lithium-ion",
        "nickel-cadmium",
        "zinc-oxide",
        "nickel-metal-hydride",
      ),
      some(unsigned("capacity", 16, 1, "A.h")),
      signed("temperature-coefficient", 8, 1, "%"),
      { ...unsigned("peukert-exponent", 8, 0.002, "1"), offset: 1 },
      signed("charge-efficiency", 8, 1, "%"),
    ),
  },
  {
    ...onRequest,
    pgn: 127514,
    title: "automatic generator status",
    length: 6,
    source: FIELD_LISTS_DOUBTFUL,
    fields: inOrder(
      index("instance"),
      index("generator-instance"),
      index("operating-state"),
      index("generator-state"),
      index("on-reason"),
      index("off-reason"),
    ),
  },
];
