import type { UnitCode } from "./codes.ts";
import { type Dimension, DIMENSIONS } from "./dimension.ts";
import { type Misread, misreadDimension, misreadNumber, misreadUnit } from "./misread.ts";
import { splitNumber } from "./number-text.ts";
import { baseScale, convert, convertDifference, scaleOf } from "./scale.ts";
import { findUnit, type OwnersUnit } from "./units.ts";

/** A number with its unit, as a person wrote it and in the signal unit. */
export interface Quantity {
  /** In `code`. */
  readonly value: number;
  /** The dimension's base unit; `valueIn` gives others (hours, minutes). */
  readonly code: UnitCode;
  readonly dimension: Dimension;
  /** As written. */
  readonly unit: OwnersUnit;
}

export type ReadQuantity = ({ readonly ok: true } & Quantity) | Misread;

/** `10 psi`, `50.4°`, `-7.9 °C`; where a dimension is given, only a quantity of that dimension. */
export function parseQuantity(text: string, dimension?: Dimension): ReadQuantity {
  return parseWith(convert, text, dimension);
}

/** A difference between two values: `5 °F` is 2.78 (Cel), `2 psi` is 13,790 (Pa). */
export function parseDifference(text: string, dimension?: Dimension): ReadQuantity {
  return parseWith(convertDifference, text, dimension);
}

/** A quantity in another signal unit of its dimension: `2 h` in min is 120. */
export function valueIn(quantity: Quantity, code: Exclude<UnitCode, "">): number {
  return convert(quantity.value, baseScale(quantity.dimension), scaleOf(code));
}

/** A half-open range in the dimension's base unit: `low` lies inside, `high` does not. */
export interface QuantityRange {
  readonly low: number;
  readonly high: number;
  readonly code: UnitCode;
}

/** `3..8 A`: at least 3 A and less than 8 A. The example is for the explanation. */
export function parseRange(
  text: string,
  dimension: Dimension,
  example: string,
): { readonly ok: true; readonly range: QuantityRange } | Misread {
  const expected = `a range with its unit, such as ${example}`;
  const dots = text.indexOf("..");
  if (dots < 0) return { ok: false, found: text, expected };
  const lower = splitNumber(text.slice(0, dots));
  const upper = splitNumber(text.slice(dots + 2));
  if (lower?.rest !== "" || upper === undefined || upper.rest === "") {
    return { ok: false, found: text, expected };
  }
  const high = parseQuantity(text.slice(dots + 2), dimension);
  if (!high.ok) return { ...high, found: text };
  const low = convert(lower.number, high.unit, baseScale(dimension));
  if (low >= high.value) {
    return { ok: false, found: text, expected: "a range whose first number is the smaller" };
  }
  return { ok: true, range: { low, high: high.value, code: high.code } };
}

function parseWith(
  change: typeof convert,
  text: string,
  dimension: Dimension | undefined,
): ReadQuantity {
  const parts = splitNumber(text);
  if (parts === undefined || parts.rest === "") return misreadNumber(text, dimension);
  const unit = findUnit(parts.rest);
  if (unit === undefined) return misreadUnit(text, parts.rest, dimension);
  if (dimension !== undefined && unit.dimension !== dimension) {
    return misreadDimension(text, unit.dimension, dimension);
  }
  const value = change(parts.number, unit, baseScale(unit.dimension));
  return {
    ok: true,
    value,
    code: DIMENSIONS[unit.dimension].base,
    dimension: unit.dimension,
    unit,
  };
}
