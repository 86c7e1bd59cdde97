import { nearestName } from "../ground/spelling.ts";
import type { FieldValue } from "./decode-message.ts";
import { mostOf, rawNumbersOf } from "./reserved-codes.ts";
import type { Field, PgnRow } from "./row.ts";
import { isSigned } from "./shape.ts";
import { textsBytes, writeText } from "./text.ts";
import { writeBits } from "./write-bits.ts";

/** What to send in a field; `raw` is sent as it is, for codes that have no value. */
export type WireValue = FieldValue | { readonly raw: number };

/** What to send, by field name. */
export type WireValues = Readonly<Record<string, WireValue | undefined>>;

/**
 * The bytes of a message by its row. A field without a value, or with null, is sent as "not
 * available"; nothing is clamped.
 *
 * @param groups what the row's tail repeats; their number is written where the row has a place for it
 * @throws {RangeError} for a field or word that the row does not know, and for a value that the
 * field cannot say.
 */
export function encodeMessage(
  row: PgnRow,
  values: WireValues,
  groups: readonly WireValues[] = [],
): Uint8Array {
  const { tail } = row;
  if (tail?.kind === "texts") {
    requireFields(values, [...row.fields.map((field) => field.name), ...tail.names]);
    const texts = textsBytes(tail.names.map((name) => textOf(name, values[name] ?? null)));
    return joined([encodeFields(row, row.fields, row.length, values), texts]);
  }
  requireFields(values, row.fields.map((field) => field.name));
  if (tail === undefined) {
    if (groups.length > 0) throw new RangeError(`PGN ${row.pgn} repeats nothing`);
    return encodeFields(row, row.fields, row.length, values);
  }
  const counted = tail.count === undefined ? values : { ...values, [tail.count]: groups.length };
  return joined([
    encodeFields(row, row.fields, row.length, counted),
    ...groups.map((group) => {
      requireFields(group, tail.fields.map((field) => field.name));
      return encodeFields(row, tail.fields, tail.length, group);
    }),
  ]);
}

function encodeFields(
  row: PgnRow,
  fields: readonly Field[],
  length: number,
  values: WireValues,
): Uint8Array {
  const bytes = new Uint8Array(length).fill(0xff);
  for (const field of fields) {
    if (field.kind !== "reserved") encodeField(row, field, values[field.name] ?? null, bytes);
  }
  return bytes;
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}

function requireFields(values: WireValues, known: readonly string[]): void {
  for (const name of Object.keys(values)) requireKnown("field", name, known);
}

function textOf(name: string, value: WireValue): string {
  if (value === null) return "";
  if (typeof value !== "string") throw refused(name, value, "a text");
  return value;
}

function encodeField(row: PgnRow, field: Field, value: WireValue, bytes: Uint8Array): void {
  const { name, bit, width, high } = field;
  if (value === null) {
    if (width === 1) throw new RangeError(`${name} is one bit and cannot say "not available"`);
    // The bytes are ones already; a signed field says it with ones below its sign.
    if (isSigned(field)) writeBits(bytes, bit + width - 1, 1, 0);
  } else if (field.kind === "text") {
    if (typeof value !== "string") throw refused(name, value, "a text");
    writeText(value, bytes, bit >> 3, width >> 3);
  } else {
    const raw = rawOf(row, field, value);
    writeBits(bytes, bit, width, raw);
    if (high !== undefined) writeBits(bytes, high.bit, high.width, Math.floor(raw / 2 ** width));
  }
}

function rawOf(row: PgnRow, field: Field, value: NonNullable<WireValue>): number {
  if (typeof value === "object" && "raw" in value) return value.raw;
  switch (field.kind) {
    case "number":
    case "index":
      if (typeof value !== "number") throw refused(field.name, value, "a number");
      return rawOfNumber(row, field, value);
    case "words": {
      if (typeof value !== "string") throw refused(field.name, value, "a word");
      requireKnown(`word of ${field.name}`, value, Object.values(field.words));
      const codes = Object.keys(field.words).map(Number);
      return Math.max(...codes.filter((code) => field.words[code] === value));
    }
    case "bits": {
      if (typeof value !== "object") throw refused(field.name, value, "a list of bits");
      let raw = 0;
      for (const name of new Set(value)) {
        requireKnown(`bit of ${field.name}`, name, field.bits.filter((known) => known !== null));
        raw += 2 ** field.bits.indexOf(name);
      }
      if (raw === mostOf(field)) throw refused(field.name, value, "fewer than all bits");
      return raw;
    }
    default:
      throw refused(field.name, value, "nothing");
  }
}

function rawOfNumber(row: PgnRow, field: Field, value: number): number {
  const resolution = field.kind === "number" ? field.resolution : 1;
  const offset = field.kind === "number" ? field.offset ?? 0 : 0;
  const raw = Math.round((value - offset) / resolution);
  const { least, limit } = rawNumbersOf(field, row.codes);
  if (raw >= least && raw < limit) return raw;
  const range = `${least * resolution + offset} to ${(limit - 1) * resolution + offset}`;
  throw refused(field.name, value, `a number from ${range}`);
}

function requireKnown(what: string, name: string, known: readonly string[]): void {
  if (known.includes(name)) return;
  const nearest = nearestName(name, known);
  const hint = nearest === undefined ? "" : `; did you mean "${nearest}"?`;
  throw new RangeError(`"${name}" is no ${what}${hint}`);
}

function refused(name: string, value: unknown, expected: string): RangeError {
  return new RangeError(`${name} is ${JSON.stringify(value)}, expected ${expected}`);
}
