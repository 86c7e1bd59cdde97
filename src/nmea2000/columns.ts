import { implausibleFrom, plausibleFrom } from "./plausible-range.ts";
import { reservedCodesOf } from "./reserved-codes.ts";
import type { Field, PgnRow } from "./row.ts";
import { endOf, shapeOf } from "./shape.ts";

export const FieldKind = { number: 0, index: 1, words: 2, bits: 3, text: 4, reserved: 5 } as const;

export const Transport = { single: 0, fastPacket: 1, isoTransport: 2 } as const;

const TRANSPORTS: Readonly<Record<PgnRow["transport"], number>> = {
  "single": Transport.single,
  "fast-packet": Transport.fastPacket,
  "iso-transport": Transport.isoTransport,
};

const PGN_COUNT = 1 << 18;

/**
 * What a row says again and again after its fields. Its fields have numbers like those of a row,
 * with places counted from the group's start: field f of group n is
 * `readRaw(columns, f, bytes, start + group.start + n * group.length)`.
 */
export interface Group {
  readonly name: string;
  /** Numbers of its first field, and past its last. */
  readonly firstField: number;
  readonly pastField: number;
  /** Bytes of the message before the first group, and of each group. */
  readonly start: number;
  readonly length: number;
  /** The field that says how many groups follow; -1 where they fill the message. */
  readonly count: number;
}

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
  /** By row: bytes of the whole message, without its tail. */
  readonly length: Uint16Array;
  /** By row: what its tail repeats; null where it repeats nothing. */
  readonly groups: readonly (Group | null)[];

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
  /** By field: a raw value below the first, or this or more of the second, is no possible one. */
  readonly plausibleFrom: Float64Array;
  readonly implausibleFrom: Float64Array;
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

    const repeated = rows.map((row) => row.tail?.kind === "groups" ? row.tail.fields : []);
    const fields = [...rows.flatMap((row) => row.fields), ...repeated.flat()];
    this.fields = fields;
    this.kind = Uint8Array.from(fields, (field) => FieldKind[field.kind]);
    this.shape = Uint8Array.from(fields, shapeOf);
    this.at = Uint16Array.from(fields, (field) => field.bit >> 3);
    this.shift = Uint8Array.from(fields, (field) => field.bit & 7);
    this.width = Uint16Array.from(fields, (field) => field.width);
    this.mask = Uint32Array.from(fields, ({ width }) => width > 32 ? 0 : 2 ** width - 1);
    this.end = Uint16Array.from(fields, endOf);
    this.resolution = Float64Array.from(fields, (f) => f.kind === "number" ? f.resolution : 1);
    this.offset = Float64Array.from(fields, (f) => f.kind === "number" ? f.offset ?? 0 : 0);
    const codesOf = (row: PgnRow) => (field: Field) => reservedCodesOf(field, row.codes);
    const codes = [
      ...rows.flatMap((row) => row.fields.map(codesOf(row))),
      ...rows.flatMap((row, at) => repeated[at].map(codesOf(row))),
    ];
    this.notAvailableFrom = Float64Array.from(codes, (code) => code.notAvailableFrom);
    this.outOfRangeFrom = Float64Array.from(codes, (code) => code.outOfRangeFrom);
    this.plausibleFrom = Float64Array.from(fields, plausibleFrom);
    this.implausibleFrom = Float64Array.from(fields, implausibleFrom);
    this.words = fields.map((field) => field.kind === "words" ? wordsOf(field.words) : null);
    this.groups = this.#groupsOf(rows);
  }

  #groupsOf(rows: readonly PgnRow[]): (Group | null)[] {
    let pastField = this.firstField[rows.length];
    return rows.map(({ tail, length: start }, row) => {
      if (tail?.kind !== "groups") return null;
      const firstField = pastField;
      pastField += tail.fields.length;
      const count = tail.count === undefined ? -1 : this.fieldOf(row, tail.count);
      return { name: tail.name, firstField, pastField, start, length: tail.length, count };
    });
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

  /** The field of a row's groups by its name, or -1. */
  groupFieldOf(row: number, name: string): number {
    const group = this.groups[row];
    if (group === null) return -1;
    const fields = this.fields.slice(group.firstField, group.pastField);
    const at = fields.findIndex((field) => field.name === name);
    return at < 0 ? -1 : group.firstField + at;
  }
}

function wordsOf(words: Readonly<Record<number, string>>): ReadonlyMap<number, string> {
  return new Map(Object.entries(words).map(([code, word]) => [Number(code), word]));
}
