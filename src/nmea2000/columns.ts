import { reservedCodesOf } from "./reserved-codes.ts";
import type { Field, PgnRow } from "./row.ts";
import { shapeOf } from "./shape.ts";

export const FieldKind = { number: 0, index: 1, words: 2, bits: 3, text: 4, reserved: 5 } as const;

export const Transport = { single: 0, fastPacket: 1, isoTransport: 2 } as const;

const TRANSPORTS: Readonly<Record<PgnRow["transport"], number>> = {
  "single": Transport.single,
  "fast-packet": Transport.fastPacket,
  "iso-transport": Transport.isoTransport,
};

const PGN_COUNT = 1 << 18;

/**
 * The rows flattened for the hot path. A row is a number, and so is a field: the fields of row r are
 * `firstField[r]` up to, without, `firstField[r + 1]`. A decode loop goes
 *
 *     for (let f = columns.firstField[row]; f < columns.firstField[row + 1]; f++) {
 *       if (columns.end[f] > length) continue;             // a short message: the field is not there
 *       const raw = readRaw(columns, f, bytes, start);     // compare with the last raw value here
 *       const status = statusOf(columns, f, raw);          // present, not available, out of range
 *       const value = raw * columns.resolution[f] + columns.offset[f];
 *     }
 *
 * with the functions of `read-field.ts`.
 */
export class Columns {
  /** By row, and one more: number of its first field. */
  readonly firstField: Uint16Array;
  /** By row: `Transport`. */
  readonly transport: Uint8Array;
  /** By row: usual period in microseconds; 0 where the row has none. */
  readonly period: Float64Array;
  /** By row: bytes of the whole message. */
  readonly length: Uint16Array;

  /** By field, as the rows have them. */
  readonly fields: readonly Field[];
  /** By field: `FieldKind`. */
  readonly kind: Uint8Array;
  /** By field: `Shape`. */
  readonly shape: Uint8Array;
  /** By field: its first byte, counted from the start of the message. */
  readonly at: Uint16Array;
  /** By field: its first bit in that byte. */
  readonly shift: Uint8Array;
  /** By field: bits. */
  readonly width: Uint16Array;
  /** By field: ones for its bits after the shift; 0 beyond 32 bits. */
  readonly mask: Uint32Array;
  /** By field: bytes that a message must have to hold it. */
  readonly end: Uint16Array;
  /** By field: value = raw × resolution + offset. 1 and 0 where the kind is not a number. */
  readonly resolution: Float64Array;
  readonly offset: Float64Array;
  /** By field: see `ReservedCodes`. */
  readonly notAvailableFrom: Float64Array;
  readonly outOfRangeFrom: Float64Array;
  /** By field: code → word; null where the kind is not words. */
  readonly words: readonly (ReadonlyMap<number, string> | null)[];

  readonly #rowByPgn = new Int16Array(PGN_COUNT).fill(-1);

  /** @throws {RangeError} for two rows with one PGN, or a field that cannot be read. */
  constructor(readonly rows: readonly PgnRow[]) {
    for (const [row, { pgn, title }] of rows.entries()) {
      if (this.#rowByPgn[pgn] >= 0) throw new RangeError(`PGN ${pgn} (${title}) has two rows`);
      this.#rowByPgn[pgn] = row;
    }
    this.transport = Uint8Array.from(rows, (row) => TRANSPORTS[row.transport]);
    this.period = Float64Array.from(rows, (row) => row.period ?? 0);
    this.length = Uint16Array.from(rows, (row) => row.length);
    this.firstField = new Uint16Array(rows.length + 1);
    for (const [row, { fields }] of rows.entries()) {
      this.firstField[row + 1] = this.firstField[row] + fields.length;
    }

    const fields = rows.flatMap((row) => row.fields);
    this.fields = fields;
    this.kind = Uint8Array.from(fields, (field) => FieldKind[field.kind]);
    this.shape = Uint8Array.from(fields, shapeOf);
    this.at = Uint16Array.from(fields, (field) => field.bit >> 3);
    this.shift = Uint8Array.from(fields, (field) => field.bit & 7);
    this.width = Uint16Array.from(fields, (field) => field.width);
    this.mask = Uint32Array.from(fields, ({ width }) => width > 32 ? 0 : 2 ** width - 1);
    this.end = Uint16Array.from(fields, (field) => (field.bit + field.width + 7) >> 3);
    this.resolution = Float64Array.from(fields, (f) => f.kind === "number" ? f.resolution : 1);
    this.offset = Float64Array.from(fields, (f) => f.kind === "number" ? f.offset ?? 0 : 0);
    const codes = rows.flatMap((row) => row.fields.map((f) => reservedCodesOf(f, row.codes)));
    this.notAvailableFrom = Float64Array.from(codes, (code) => code.notAvailableFrom);
    this.outOfRangeFrom = Float64Array.from(codes, (code) => code.outOfRangeFrom);
    this.words = fields.map((field) => field.kind === "words" ? wordsOf(field.words) : null);
  }

  /** The row of a PGN (as `pgnOf` gives it, or any number below 2^18), or -1. */
  rowOf(pgn: number): number {
    return this.#rowByPgn[pgn];
  }

  /** The field of a row by its name, or -1. */
  fieldOf(row: number, name: string): number {
    const first = this.firstField[row];
    const at = this.rows[row].fields.findIndex((field) => field.name === name);
    return at < 0 ? -1 : first + at;
  }
}

function wordsOf(words: Readonly<Record<number, string>>): ReadonlyMap<number, string> {
  return new Map(Object.entries(words).map(([code, word]) => [Number(code), word]));
}
