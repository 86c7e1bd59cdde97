import { rawNumbersOf } from "../nmea2000/reserved-codes.ts";
import type { Field, PgnRow } from "../nmea2000/row.ts";
import type { UnitCode } from "../units/codes.ts";
import { wireConversion } from "../units/scale.ts";

/** The values that can be heard of a quantity, in its unit; both ends count. */
export interface Reach {
  readonly least: number;
  readonly most: number;
}

export const ENDLESS: Reach = { least: -Infinity, most: Infinity };

/** What a field can say that is taken for a value; endless for what is no number. */
export function reachOf(field: Field, codes: PgnRow["codes"], unit: UnitCode): Reach {
  if (field.kind !== "number" || unit === "") return ENDLESS;
  const { factor, zero } = wireConversion(field.unit, unit);
  const { resolution, offset = 0, plausible } = field;
  const raw = rawNumbersOf(field, codes);
  const least = Math.max(raw.least * resolution + offset, plausible?.least ?? -Infinity);
  const most = Math.min((raw.limit - 1) * resolution + offset, plausible?.most ?? Infinity);
  return { least: (least - zero) * factor, most: (most - zero) * factor };
}

/** Of a quantity that either of two brings. */
export function either(one: Reach, other: Reach): Reach {
  return { least: Math.min(one.least, other.least), most: Math.max(one.most, other.most) };
}
