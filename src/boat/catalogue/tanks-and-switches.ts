import { type CatalogueEntry, INSTANCE, same } from "./entry.ts";

/** Indicators of one bank, IEC 61162-3 (PGN 127501). */
const INDICATORS = 28;

export const TANK_AND_SWITCH_ENTRIES: readonly CatalogueEntry[] = [
  {
    pgn: 127505,
    group: "tank",
    keys: [{ field: "fluid", part: "fluid" }, INSTANCE],
    signals: [same("level"), same("capacity", "volume")],
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
      optional: true,
    })),
  },
];
