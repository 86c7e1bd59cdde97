import { MILLISECOND, SECOND } from "../../ground/time.ts";
import type { PgnRow } from "../row.ts";
import { index, inOrder, reserved, sequenceIdentifier, signed, unsigned, words } from "./fields.ts";
import { FIELD_LISTS } from "./sources.ts";
import { direction, halfTurn, quarterTurn } from "./plausible.ts";

export const STEERING_ROWS: readonly PgnRow[] = [
  {
    pgn: 127245,
    title: "rudder",
    transport: "single",
    priority: 2,
    codes: "nmea2000",
    period: 100 * MILLISECOND,
    length: 8,
    source: FIELD_LISTS,
    fields: inOrder(
      index("instance"),
      words("direction-order", 3, "no-order", "move-to-starboard", "move-to-port"),
      reserved(5),
      quarterTurn(signed("angle-order", 16, 0.0001, "rad")),
      quarterTurn(signed("rudder-angle", 16, 0.0001, "rad")),
      reserved(16, "reserved-2"),
    ),
  },
  {
    pgn: 127250,
    title: "vessel heading",
    transport: "single",
    priority: 2,
    codes: "nmea2000",
    period: 100 * MILLISECOND,
    length: 8,
    source: FIELD_LISTS,
    fields: inOrder(
      sequenceIdentifier(),
      direction(unsigned("heading", 16, 0.0001, "rad")),
      halfTurn(signed("deviation", 16, 0.0001, "rad")),
      halfTurn(signed("variation", 16, 0.0001, "rad")),
      words("heading-reference", 2, "true", "magnetic"),
      reserved(6),
    ),
  },
  {
    pgn: 127251,
    title: "rate of turn",
    transport: "single",
    priority: 2,
    codes: "nmea2000",
    period: 100 * MILLISECOND,
    length: 8,
    source: FIELD_LISTS,
    fields: inOrder(
      sequenceIdentifier(),
      signed("rate-of-turn", 32, 2 ** -5 * 1e-6, "rad/s"),
      reserved(24),
    ),
  },
  {
    pgn: 127257,
    title: "attitude",
    transport: "single",
    priority: 3,
    codes: "nmea2000",
    period: SECOND,
    length: 8,
    source: FIELD_LISTS,
    fields: inOrder(
      sequenceIdentifier(),
      halfTurn(signed("yaw", 16, 0.0001, "rad")),
      quarterTurn(signed("pitch", 16, 0.0001, "rad")),
      halfTurn(signed("roll", 16, 0.0001, "rad")),
      reserved(8),
    ),
  },
  {
    pgn: 127258,
    title: "magnetic variation",
    transport: "single",
    codes: "nmea2000",
    period: SECOND,
    length: 8,
    source: FIELD_LISTS,
    fields: inOrder(
      sequenceIdentifier(),
      index("variation-source", 4),
      reserved(4),
      unsigned("age-of-service", 16, 1, "d"),
      halfTurn(signed("variation", 16, 0.0001, "rad")),
      reserved(16, "reserved-2"),
    ),
  },
];
