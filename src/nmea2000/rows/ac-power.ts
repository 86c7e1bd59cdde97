import { MILLISECOND } from "../../ground/time.ts";
import type { PgnRow } from "../row.ts";
import {
  groupsOf,
  index,
  inOrder,
  reserved,
  sequenceIdentifier,
  signed,
  unsigned,
  words,
} from "./fields.ts";
import { FIELD_LISTS, FROM_MEMORY } from "./sources.ts";

const AC_PERIOD = 1500 * MILLISECOND;

/** Input and output say the same of each line, up to three. */
function status(pgn: number, title: string, connection: string): PgnRow {
  return {
    pgn,
    title,
    transport: "fast-packet",
    codes: "nmea2000",
    period: AC_PERIOD,
    length: 2,
    shortest: 2,
    source: FIELD_LISTS,
    fields: inOrder(index("instance"), index("lines")),
    tail: groupsOf(
      "line",
      { count: "lines" },
      words("line", 2, "line-1", "line-2", "line-3"),
      connection === "input"
        ? words("acceptability", 2, "bad-level", "bad-frequency", "being-qualified", "good")
        : words("waveform", 3, "sine-wave", "modified-sine-wave"),
      reserved(connection === "input" ? 4 : 3),
      unsigned("voltage", 16, 0.01, "V"),
      unsigned("current", 16, 0.1, "A"),
      unsigned("frequency", 16, 0.01, "Hz"),
      unsigned("breaker-size", 16, 0.1, "A"),
      unsigned("real-power", 32, 1, "W"),
      unsigned("reactive-power", 32, 1, "V.A"),
      unsigned("power-factor", 8, 0.01, "1"),
    ),
  };
}

function power(pgn: number, phase: string): PgnRow {
  return {
    pgn,
    title: `AC power and current, phase ${phase}`,
    transport: "single",
    codes: "nmea2000",
    period: AC_PERIOD,
    length: 8,
    source: FROM_MEMORY,
    fields: inOrder(
      sequenceIdentifier(),
      index("instance"),
      unsigned("current", 16, 0.1, "A"),
      signed("power", 32, 1, "W"),
    ),
  };
}

function voltage(pgn: number, phase: string): PgnRow {
  return {
    pgn,
    title: `AC voltage and frequency, phase ${phase}`,
    transport: "single",
    codes: "nmea2000",
    period: AC_PERIOD,
    length: 8,
    source: FROM_MEMORY,
    fields: inOrder(
      sequenceIdentifier(),
      index("instance"),
      unsigned("voltage", 16, 0.1, "V"),
      unsigned("line-to-line-voltage", 16, 0.1, "V"),
      unsigned("frequency", 16, 0.01, "Hz"),
    ),
  };
}

/** Alternating current: the older messages say all lines, their successors one phase each. */
export const AC_POWER_ROWS: readonly PgnRow[] = [
  status(127503, "AC input status", "input"),
  status(127504, "AC output status", "output"),
  power(127744, "A"),
  power(127745, "B"),
  power(127746, "C"),
  voltage(127747, "A"),
  voltage(127748, "B"),
  voltage(127749, "C"),
];
