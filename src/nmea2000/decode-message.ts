import { type Columns, FieldKind } from "./columns.ts";
import { FieldStatus, readRaw, statusOf } from "./read-field.ts";
import { readText, readTexts } from "./text.ts";

/**
 * What a field can hold: a number in the wire's unit, a word, the names of the bits that are set,
 * a text. null: not available.
 */
export type FieldValue = number | string | readonly string[] | null;

export interface DecodedField {
  readonly status: FieldStatus;
  /** null unless the status is `present` or `implausible`. */
  readonly value: FieldValue;
}

/**
 * A message as an object by field name, for whoever needs one now and then: devices, tools, tests.
 * The boat's signals have their own loop over the same columns. A short message yields the fields
 * that it has; reserved fields are left out. Texts of its tail are fields like any other;
 * `decodeGroups` gives what it repeats.
 */
export function decodeMessage(
  columns: Columns,
  row: number,
  bytes: Uint8Array,
  start: number,
  length: number,
): Record<string, DecodedField> {
  const decoded: Record<string, DecodedField> = {};
  for (let field = columns.firstField[row]; field < columns.firstField[row + 1]; field++) {
    if (columns.kind[field] === FieldKind.reserved || columns.end[field] > length) continue;
    decoded[columns.fields[field].name] = decodeField(columns, field, bytes, start);
  }
  const { tail } = columns.rows[row];
  if (tail?.kind === "texts") {
    const texts = readTexts(bytes, start + columns.length[row], start + length);
    for (const [at, text] of texts.slice(0, tail.names.length).entries()) {
      decoded[tail.names[at]] = decodedText(text);
    }
  }
  return decoded;
}

/** One field of a message whose bytes are there. */
export function decodeField(
  columns: Columns,
  number: number,
  bytes: Uint8Array,
  start: number,
): DecodedField {
  const field = columns.fields[number];
  if (field.kind === "text") {
    return decodedText(readText(bytes, start + columns.at[number], field.width >> 3));
  }
  const raw = readRaw(columns, number, bytes, start);
  const status = statusOf(columns, number, raw);
  if (status === FieldStatus.notAvailable || status === FieldStatus.outOfRange) {
    return { status, value: null };
  }
  switch (field.kind) {
    case "words":
      return { status, value: field.words[raw] };
    case "bits":
      return { status, value: bitsSet(field.bits, raw) };
    default:
      return { status, value: raw * columns.resolution[number] + columns.offset[number] };
  }
}

function decodedText(value: string): DecodedField {
  return value === ""
    ? { status: FieldStatus.notAvailable, value: null }
    : { status: FieldStatus.present, value };
}

function bitsSet(names: readonly (string | null)[], raw: number): string[] {
  return names.filter((name, bit): name is string => name !== null && ((raw >>> bit) & 1) === 1);
}
