import type { PgnRow } from "../row.ts";
import { index, inOrder, reserved, text, unsigned, words } from "./fields.ts";
import { FIELD_LISTS, NAME_LAYOUT } from "./sources.ts";

export const NETWORK_ROWS: readonly PgnRow[] = [
  {
    pgn: 60928,
    title: "address claim",
    transport: "single",
    codes: "nmea2000",
    period: null,
    length: 8,
    source: NAME_LAYOUT,
    fields: inOrder(
      index("identity-number", 21),
      index("manufacturer-code", 11),
      index("device-instance-lower", 3),
      index("device-instance-upper", 5),
      index("device-function", 8),
      reserved(1),
      index("device-class", 7),
      index("system-instance", 4),
      index("industry-group", 3),
      words("arbitrary-address", 1, "no", "yes"),
    ),
  },
  {
    pgn: 126996,
    title: "product information",
    transport: "fast-packet",
    codes: "nmea2000",
    period: null,
    length: 134,
    source: FIELD_LISTS,
    fields: inOrder(
      unsigned("network-version", 16, 0.001, "1"),
      index("product-code", 16),
      text("model", 32),
      text("software-version", 32),
      text("model-version", 32),
      text("serial", 32),
      index("certification-level"),
      index("load-equivalency"),
    ),
  },
];
