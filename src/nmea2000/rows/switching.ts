import { SECOND } from "../../ground/time.ts";
import type { PgnRow } from "../row.ts";
import { index, inOrder, onOff } from "./fields.ts";
import { FIELD_LISTS } from "./sources.ts";

/** Two-bit indicators of one bank. */
export const INDICATORS = 28;

const indicators = (word: string) =>
  Array.from({ length: INDICATORS }, (_, i) => onOff(`${word}-${i + 1}`));

export const SWITCHING_ROWS: readonly PgnRow[] = [
  {
    pgn: 127501,
    title: "binary switch bank status",
    transport: "single",
    priority: 3,
    codes: "nmea2000",
    period: 15 * SECOND,
    length: 8,
    source: FIELD_LISTS,
    fields: inOrder(index("instance"), ...indicators("indicator")),
  },
  {
    pgn: 127502,
    title: "switch bank control",
    transport: "single",
    priority: 3,
    codes: "nmea2000",
    period: null,
    length: 8,
    source: FIELD_LISTS,
    fields: inOrder(index("instance"), ...indicators("switch")),
  },
];
