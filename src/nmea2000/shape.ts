import type { Field } from "./row.ts";

/**
 * How a field lies in its bytes. Numbers, because they lie in a typed array; `readRaw` lists the
 * same numbers as literals, since only those make V8 build a jump table.
 */
export const Shape = {
  u8: 0,
  u16: 1,
  u24: 2,
  u32: 3,
  i8: 4,
  i16: 5,
  i24: 6,
  i32: 7,
  u64: 8,
  i64: 9,
  /** Bits inside one byte, two bytes, or up to four bytes; unsigned. */
  bitsOf8: 10,
  bitsOf16: 11,
  bitsOf32: 12,
  /** Any other number up to 52 bits, signed or not, bit by bit: slow and rare. */
  bitByBit: 13,
  /** Two places that make one unsigned number of up to 32 bits: slow and rare. */
  split: 14,
  /** Text and reserved bits: no number. */
  none: 15,
} as const;
export type Shape = (typeof Shape)[keyof typeof Shape];

const WHOLE_UNSIGNED: Readonly<Record<number, Shape>> = {
  8: Shape.u8,
  16: Shape.u16,
  24: Shape.u24,
  32: Shape.u32,
  64: Shape.u64,
};

const WHOLE_SIGNED: Readonly<Record<number, Shape>> = {
  8: Shape.i8,
  16: Shape.i16,
  24: Shape.i24,
  32: Shape.i32,
  64: Shape.i64,
};

export function isSigned(field: Field): boolean {
  return field.kind === "number" && field.signed === true;
}

/** Bits of a field, wherever they lie. */
export function bitsOf({ width, high }: Field): number {
  return width + (high?.width ?? 0);
}

/** Bytes that a message must have to hold a field. */
export function endOf({ bit, width, high }: Field): number {
  const end = high === undefined ? bit + width : Math.max(bit + width, high.bit + high.width);
  return Math.ceil(end / 8);
}

/** @throws {RangeError} for a width that no shape reads. */
export function shapeOf(field: Field): Shape {
  if (field.kind === "text" || field.kind === "reserved") return Shape.none;
  if (field.high !== undefined) {
    if (!isSigned(field) && bitsOf(field) <= 32) return Shape.split;
    throw new RangeError(`field ${field.name} lies in two places and has ${bitsOf(field)} bits`);
  }
  const shift = field.bit % 8;
  const whole = shift === 0
    ? (isSigned(field) ? WHOLE_SIGNED : WHOLE_UNSIGNED)[field.width]
    : undefined;
  if (whole !== undefined) return whole;
  const reach = shift + field.width;
  if (!isSigned(field)) {
    if (reach <= 8) return Shape.bitsOf8;
    if (reach <= 16) return Shape.bitsOf16;
    if (reach <= 32) return Shape.bitsOf32;
  }
  if (field.width <= 52) return Shape.bitByBit;
  throw new RangeError(`field ${field.name} has ${field.width} bits at bit ${field.bit}`);
}
