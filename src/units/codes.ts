/**
 * The UCUM codes that signals use (contract §3). Every signal has exactly one of them; what an owner
 * reads or writes is converted at the border. An empty code belongs to enumerated words.
 */
export type UnitCode =
  | "Pa"
  | "Cel"
  | "V"
  | "A"
  | "1/min"
  | "L/h"
  | "h"
  | "%"
  | "m"
  | "m/s"
  | "deg"
  | "deg/s"
  | "A.h"
  | "L"
  | "s"
  | "min"
  | "1/h"
  | "1"
  | "";
