import type { Columns } from "./columns.ts";
import { isSigned } from "./shape.ts";

/** What a raw value says; the numbers are those of `boat/`'s reasons. */
export const FieldStatus = { present: 0, notAvailable: 1, outOfRange: 2, implausible: 4 } as const;
export type FieldStatus = (typeof FieldStatus)[keyof typeof FieldStatus];

/**
 * The raw number of a field whose bytes are there (`end[field] <= length`): sign extended,
 * otherwise unscaled. 64-bit numbers beyond 2^53 lose their lowest bits. 0 for `Shape.none`.
 */
export function readRaw(columns: Columns, field: number, bytes: Uint8Array, start: number): number {
  const at = start + columns.at[field];
  switch (columns.shape[field]) {
    case 0: // u8
      return bytes[at];
    case 1: // u16
      return bytes[at] | (bytes[at + 1] << 8);
    case 2: // u24
      return bytes[at] | (bytes[at + 1] << 8) | (bytes[at + 2] << 16);
    case 3: // u32
      return u32(bytes, at);
    case 4: // i8
      return (bytes[at] << 24) >> 24;
    case 5: // i16
      return ((bytes[at] | (bytes[at + 1] << 8)) << 16) >> 16;
    case 6: // i24
      return ((bytes[at] | (bytes[at + 1] << 8) | (bytes[at + 2] << 16)) << 8) >> 8;
    case 7: // i32
      return u32(bytes, at) | 0;
    case 8: // u64
      return u32(bytes, at + 4) * 0x1_0000_0000 + u32(bytes, at);
    case 9: // i64
      return (u32(bytes, at + 4) | 0) * 0x1_0000_0000 + u32(bytes, at);
    case 10: // bitsOf8
      return (bytes[at] >> columns.shift[field]) & columns.mask[field];
    case 11: // bitsOf16
      return ((bytes[at] | (bytes[at + 1] << 8)) >> columns.shift[field]) & columns.mask[field];
    case 12: // bitsOf32
      return bitsOf32(columns, field, bytes, start);
    case 13: // bitByBit
      return bitByBit(columns, field, bytes, at);
    case 14: // split
      return split(columns, field, bytes, start);
    default:
      return 0;
  }
}

/** What a raw value of a field says. */
export function statusOf(columns: Columns, field: number, raw: number): FieldStatus {
  if (raw >= columns.notAvailableFrom[field]) return FieldStatus.notAvailable;
  if (raw >= columns.outOfRangeFrom[field]) return FieldStatus.outOfRange;
  if (raw >= columns.implausibleFrom[field] || raw < columns.plausibleFrom[field]) {
    return FieldStatus.implausible;
  }
  const words = columns.words[field];
  return words === null || words.has(raw) ? FieldStatus.present : FieldStatus.outOfRange;
}

function u32(bytes: Uint8Array, at: number): number {
  return (bytes[at] | (bytes[at + 1] << 8) | (bytes[at + 2] << 16) | (bytes[at + 3] << 24)) >>> 0;
}

function split(columns: Columns, field: number, bytes: Uint8Array, start: number): number {
  const { bit, width, high = { bit: 0, width: 0 } } = columns.fields[field];
  return bitsAt(bytes, start, high.bit, high.width) * 2 ** width +
    bitsAt(bytes, start, bit, width);
}

function bitsAt(bytes: Uint8Array, start: number, bit: number, width: number): number {
  let raw = 0;
  for (let place = bit + width - 1; place >= bit; place--) {
    raw = raw * 2 + ((bytes[start + (place >> 3)] >> (place & 7)) & 1);
  }
  return raw;
}

/** Never reads beyond the field's last byte: the message may be the last in its buffer. */
function bitsOf32(columns: Columns, field: number, bytes: Uint8Array, start: number): number {
  let raw = 0;
  for (let at = start + columns.end[field] - 1; at >= start + columns.at[field]; at--) {
    raw = (raw << 8) | bytes[at];
  }
  return ((raw >>> columns.shift[field]) & columns.mask[field]) >>> 0;
}

/** Any place, any sign, up to 52 bits. */
function bitByBit(columns: Columns, field: number, bytes: Uint8Array, at: number): number {
  const width = columns.width[field];
  const raw = bitsAt(bytes, at, columns.shift[field], width);
  return isSigned(columns.fields[field]) && raw >= 2 ** (width - 1) ? raw - 2 ** width : raw;
}
