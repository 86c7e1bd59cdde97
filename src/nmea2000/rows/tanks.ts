import { MILLISECOND } from "../../ground/time.ts";
import type { PgnRow } from "../row.ts";
import { index, inOrder, reserved, signed, unsigned, words } from "./fields.ts";
import { FIELD_LISTS } from "./sources.ts";
import { some, tankLevel } from "./plausible.ts";

export const TANK_ROWS: readonly PgnRow[] = [
  {
    pgn: 127505,
    title: "fluid level",
    transport: "single",
    codes: "nmea2000",
    period: 2500 * MILLISECOND,
    length: 8,
    source: FIELD_LISTS,
    fields: inOrder(
      index("instance", 4),
      words(
        "fluid",
        4,
        "fuel",
        "water",
        "gray-water",
        "live-well",
        "oil",
        "black-water",
        "fuel-gasoline",
      ),
      tankLevel(signed("level", 16, 0.004, "%")),
      some(unsigned("capacity", 32, 0.1, "L")),
      reserved(8),
    ),
  },
];
