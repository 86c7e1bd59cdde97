/**
 * The UCUM codes that signals use (contract §3). Every signal has exactly one of them; what an owner
 * reads or writes is converted at the border. An empty code belongs to enumerated words.
 */
export const UNIT_CODES = [
  "Pa",
  "Cel",
  "V",
  "A",
  "1/min",
  "L/h",
  "h",
  "%",
  "m",
  "m/s",
  "deg",
  "deg/s",
  "A.h",
  "W",
  "L",
  "s",
  "min",
  "1/h",
  "Hz",
  "1",
  "",
] as const;

export type UnitCode = (typeof UNIT_CODES)[number];

/** Units as they are on the wire, UCUM; `boat/` converts them to the signal's. */
export type WireUnit =
  | "1/min"
  | "Pa"
  | "K"
  | "Cel"
  | "V"
  | "A"
  | "A.h"
  | "W"
  | "V.A"
  | "L"
  | "L/h"
  | "%"
  | "s"
  | "min"
  | "h"
  | "m"
  | "m/s"
  | "rad"
  | "rad/s"
  | "deg"
  | "Hz"
  | "d"
  | "1";
