import type { Field, PgnRow } from "./row.ts";
import { bitsOf, isSigned } from "./shape.ts";

/**
 * Raw values from which a field says nothing. Both standards put these codes at the top of the
 * range: NMEA 2000 takes all ones for "not available", one less for "out of range", two less as
 * reserved (fields of two and three bits have no reserved code, one bit has none at all); SAE
 * J1939-71 takes the highest byte: FF not available, FE error, FB to FD specific or reserved.
 */
export interface ReservedCodes {
  /** This raw value or more: not available. Infinity: there is no such code. */
  readonly notAvailableFrom: number;
  /** This raw value or more, below `notAvailableFrom`: out of range, in error, or reserved. */
  readonly outOfRangeFrom: number;
}

const NO_CODES: ReservedCodes = { notAvailableFrom: Infinity, outOfRangeFrom: Infinity };

export function reservedCodesOf(field: Field, codes: PgnRow["codes"]): ReservedCodes {
  if (field.width < 2 || field.kind === "text" || field.kind === "reserved") return NO_CODES;
  const most = mostOf(field);
  if (field.kind === "words" && most in field.words) return NO_CODES;
  // A word decides for each code, a status word is read bit by bit, and a count may use them all.
  if (field.kind !== "number") return { notAvailableFrom: most, outOfRangeFrom: Infinity };
  if (codes === "j1939" && field.width >= 8 && field.width % 8 === 0) {
    const high = 2 ** (field.width - 8);
    return { notAvailableFrom: 0xff * high, outOfRangeFrom: 0xfb * high };
  }
  const outOfRange = codes === "j1939" || field.width < 4 ? 1 : 2;
  return { notAvailableFrom: most, outOfRangeFrom: most - outOfRange };
}

/** The raw values of a field that are numbers, from `least` up to, without, `limit`. */
export function rawNumbersOf(field: Field, codes: PgnRow["codes"]) {
  const { notAvailableFrom, outOfRangeFrom } = reservedCodesOf(field, codes);
  return {
    least: isSigned(field) ? -(2 ** (field.width - 1)) : 0,
    limit: Math.min(notAvailableFrom, outOfRangeFrom, 2 ** bitsOf(field)),
  };
}

/** Raw value of all ones (signed: of all ones below the sign), beyond 2^53 as near as a number is. */
export function mostOf(field: Field): number {
  return 2 ** (isSigned(field) ? field.width - 1 : bitsOf(field)) - 1;
}

/** What a reserved code says, for a person; both standards' own words. */
export type ReservedWord =
  | "not-available"
  | "out-of-range"
  | "error"
  | "parameter-specific"
  | "reserved";

/**
 * The word of a raw value that is no value, or null where it is one. All but "not available" are
 * one status in the decoder: whoever reads the signal gets no number and must look at the sender.
 */
export function reservedWordOf(
  field: Field,
  codes: PgnRow["codes"],
  raw: number,
): ReservedWord | null {
  const { notAvailableFrom, outOfRangeFrom } = reservedCodesOf(field, codes);
  if (raw >= notAvailableFrom) return "not-available";
  if (raw < outOfRangeFrom) return null;
  if (codes === "nmea2000") return raw === mostOf(field) - 1 ? "out-of-range" : "reserved";
  const high = field.width % 8 === 0 ? Math.floor(raw / 2 ** (field.width - 8)) : 0xfe;
  if (high === 0xfe) return "error";
  return high === 0xfb ? "parameter-specific" : "reserved";
}
