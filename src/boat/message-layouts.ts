import { type Columns, FieldKind } from "../nmea2000/columns.ts";
import { decimalsFor } from "../units/rounding.ts";
import { wireConversion } from "../units/scale.ts";
import type { UnitCode } from "../units/codes.ts";
import type { CatalogueEntry, CatalogueSignal } from "./catalogue.ts";
import { QUANTITIES } from "./quantities.ts";

/** What a slot of a layout is, before a subject gives the signal its name. */
export interface SlotFacts {
  readonly signal: CatalogueSignal;
  /** "oil-pressure", "status/low-oil-pressure" */
  readonly quantity: string;
  readonly unit: UnitCode;
  readonly decimals: number;
  readonly span: number | null;
  readonly deadband: number;
  readonly words: ReadonlyMap<number, string> | null;
}

/** Part of an instance key: a field inside one byte. */
export interface KeyPart {
  readonly name: string;
  readonly at: number;
  readonly shift: number;
  readonly mask: number;
  readonly width: number;
  readonly words: ReadonlyMap<number, string> | null;
}

/** Instance keys of one row, at most 16 bits together. */
export interface RowKeys {
  readonly parts: readonly KeyPart[];
  /** Layouts of the row, in the order in which they are tried. */
  readonly layouts: readonly number[];
}

/**
 * The catalogue laid over the columns, flattened for the decode loop. A *layout* is one catalogue
 * entry; its *operations* read one field each; an operation fills one *slot* (a signal), or as many
 * as its status word has named bits. Operations of layout l are `firstOperation[l]` up to, without,
 * `firstOperation[l + 1]`; slots are counted from 0 in each layout.
 */
export class MessageLayouts {
  readonly entries: readonly CatalogueEntry[];
  /** By layout: its row. */
  readonly row: Uint16Array;
  /** By row; null: no field of the row makes a signal. */
  readonly keys: readonly (RowKeys | null)[];
  /** By row: 1 where a field of it makes a signal. */
  readonly makesSignals: Uint8Array;
  /** By row, and one more: number of its first key part; by key part, see `KeyPart`. */
  readonly firstKey: Uint16Array;
  readonly keyAt: Uint8Array;
  readonly keyShift: Uint8Array;
  readonly keyMask: Uint8Array;
  readonly keyWidth: Uint8Array;
  /** By layout: facts of its slots. */
  readonly slots: readonly (readonly SlotFacts[])[];

  /** By layout, and one more. */
  readonly firstOperation: Uint16Array;
  /** By operation: number of its field in the columns. */
  readonly field: Uint16Array;
  /** By operation: shape, first byte and end of that field, and its bits in a byte. */
  readonly shape: Uint8Array;
  readonly at: Uint16Array;
  readonly end: Uint16Array;
  readonly fieldShift: Uint8Array;
  readonly fieldMask: Uint32Array;
  /**
   * By operation: raw numbers from the first up to, without, the second are values; none are where
   * the field is no number.
   */
  readonly numberFrom: Float64Array;
  readonly numberBelow: Float64Array;
  /** By operation: its first slot. */
  readonly slot: Uint16Array;
  /** By operation: signal = raw × scale + shift. */
  readonly scale: Float64Array;
  readonly shift: Float64Array;
  /**
   * By operation: 10 to the power of the decimals. Values are rounded as they are read, so that
   * 95 °C sent as 368.15 K does not lie above a limit of 95.
   */
  readonly rounding: Float64Array;
  /** By operation: named bits of a status word, one slot each; null for other fields. */
  readonly bits: readonly (Uint8Array | null)[];
  /** By operation: 1 where "not available" says that there is nothing (indicators of a bank). */
  readonly optional: Uint8Array;

  /** @throws {RangeError} for an entry that names a field the rows do not have. */
  constructor(catalogue: readonly CatalogueEntry[], columns: Columns) {
    this.entries = catalogue.filter((entry) => columns.rowOf(entry.pgn) >= 0);
    this.row = Uint16Array.from(this.entries, (entry) => columns.rowOf(entry.pgn));
    this.keys = columns.rows.map((_, row) => rowKeys(this.entries, this.row, row, columns));
    this.makesSignals = Uint8Array.from(this.keys, (keys) => keys === null ? 0 : 1);
    this.firstKey = new Uint16Array(this.keys.length + 1);
    for (const [row, keys] of this.keys.entries()) {
      this.firstKey[row + 1] = this.firstKey[row] + (keys?.parts.length ?? 0);
    }
    const parts = this.keys.flatMap((keys) => keys?.parts ?? []);
    this.keyAt = Uint8Array.from(parts, (part) => part.at);
    this.keyShift = Uint8Array.from(parts, (part) => part.shift);
    this.keyMask = Uint8Array.from(parts, (part) => part.mask);
    this.keyWidth = Uint8Array.from(parts, (part) => part.width);

    const operations: Operation[] = [];
    const slots: SlotFacts[][] = [];
    this.firstOperation = new Uint16Array(this.entries.length + 1);
    for (const [layout, entry] of this.entries.entries()) {
      const ofLayout: SlotFacts[] = [];
      for (const signal of entry.signals) {
        const operation = operationOf(signal, entry, this.row[layout], columns, ofLayout.length);
        operations.push(operation);
        ofLayout.push(...operation.slots);
      }
      slots.push(ofLayout);
      this.firstOperation[layout + 1] = operations.length;
    }
    this.slots = slots;
    this.field = Uint16Array.from(operations, (operation) => operation.field);
    this.shape = Uint8Array.from(this.field, (field) => columns.shape[field]);
    this.at = Uint16Array.from(this.field, (field) => columns.at[field]);
    this.end = Uint16Array.from(this.field, (field) => columns.end[field]);
    this.fieldShift = Uint8Array.from(this.field, (field) => columns.shift[field]);
    this.fieldMask = Uint32Array.from(this.field, (field) => columns.mask[field]);
    this.numberFrom = Float64Array.from(this.field, (field) => columns.plausibleFrom[field]);
    this.numberBelow = Float64Array.from(this.field, (field) => numberBelow(columns, field));
    this.slot = Uint16Array.from(operations, (operation) => operation.slot);
    this.scale = Float64Array.from(operations, (operation) => operation.scale);
    this.shift = Float64Array.from(operations, (operation) => operation.shift);
    this.rounding = Float64Array.from(operations, ({ slots: [{ decimals }] }) => 10 ** decimals);
    this.bits = operations.map((operation) => operation.bits);
    this.optional = Uint8Array.from(operations, (operation) => operation.optional ? 1 : 0);
  }
}

function numberBelow(columns: Columns, field: number): number {
  if (columns.kind[field] !== FieldKind.number) return -Infinity;
  const { notAvailableFrom, outOfRangeFrom, implausibleFrom } = columns;
  return Math.min(notAvailableFrom[field], outOfRangeFrom[field], implausibleFrom[field]);
}

interface Operation {
  readonly field: number;
  readonly slot: number;
  readonly scale: number;
  readonly shift: number;
  readonly bits: Uint8Array | null;
  readonly optional: boolean;
  readonly slots: readonly SlotFacts[];
}

function operationOf(
  signal: CatalogueSignal,
  entry: CatalogueEntry,
  row: number,
  columns: Columns,
  slot: number,
): Operation {
  const number = fieldNumber(signal.field, row, entry.pgn, columns);
  const field = columns.fields[number];
  const { unit, span = null, deadband = 0 } = QUANTITIES[signal.sort ?? signal.quantity];
  const plain = { signal, unit, span, deadband, decimals: 0, words: null };
  const operation = {
    field: number,
    slot,
    scale: 1,
    shift: 0,
    bits: null,
    optional: signal.indicator !== undefined,
  };
  switch (field.kind) {
    case "number": {
      if (unit === "") throw new RangeError(`${signal.quantity} is a number and has no unit`);
      const { factor, zero } = wireConversion(field.unit, unit);
      const scale = field.resolution * factor;
      const shift = ((field.offset ?? 0) - zero) * factor;
      const decimals = decimalsFor(scale, shift);
      const facts = { ...plain, quantity: signal.quantity, decimals };
      return { ...operation, scale, shift, slots: [facts] };
    }
    case "words": {
      const facts = { ...plain, quantity: signal.quantity, words: columns.words[number] };
      return { ...operation, slots: [facts] };
    }
    case "bits": {
      const named = [...field.bits.entries()].filter(([, bit]) => bit !== null);
      return {
        ...operation,
        bits: Uint8Array.from(named, ([bit]) => bit),
        slots: named.map(([, bit]) => ({ ...plain, quantity: `${signal.quantity}/${bit}` })),
      };
    }
    default:
      throw new RangeError(`${signal.field} of PGN ${entry.pgn} is ${field.kind}: no signal`);
  }
}

function rowKeys(
  entries: readonly CatalogueEntry[],
  rows: Uint16Array,
  row: number,
  columns: Columns,
): RowKeys | null {
  const layouts = [...entries.keys()].filter((layout) => rows[layout] === row);
  if (layouts.length === 0) return null;
  const names = new Set<string>();
  for (const layout of layouts) {
    const { when, keys } = entries[layout];
    if (when !== undefined) names.add(when.field);
    for (const key of keys) names.add(key.field);
  }
  const parts = [...names].map((name) => keyPart(name, row, columns));
  const width = parts.reduce((sum, part) => sum + part.width, 0);
  if (width > 16) throw new RangeError(`keys of PGN ${columns.rows[row].pgn} have ${width} bits`);
  return { parts, layouts };
}

function keyPart(name: string, row: number, columns: Columns): KeyPart {
  const field = fieldNumber(name, row, columns.rows[row].pgn, columns);
  const shift = columns.shift[field];
  const width = columns.width[field];
  if (shift + width > 8) throw new RangeError(`key ${name} does not lie inside one byte`);
  return {
    name,
    at: columns.at[field],
    shift,
    mask: columns.mask[field],
    width,
    words: columns.words[field],
  };
}

function fieldNumber(name: string, row: number, pgn: number, columns: Columns): number {
  const field = columns.fieldOf(row, name);
  if (field < 0) throw new RangeError(`PGN ${pgn} has no field ${name}`);
  return field;
}
