import { type Columns, FieldKind } from "../nmea2000/columns.ts";
import type { UnitCode } from "../units/codes.ts";
import { decimalsFor } from "../units/rounding.ts";
import { wireConversion } from "../units/scale.ts";
import type { CatalogueEntry, CatalogueSignal } from "./catalogue/entry.ts";
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

/** Reads one field of a message into one slot, or a status word into one for each named bit. */
export interface Operation {
  readonly field: number;
  readonly slot: number;
  readonly scale: number;
  readonly shift: number;
  readonly bits: Uint8Array | null;
  readonly optional: boolean;
  readonly slots: readonly SlotFacts[];
}

/** @throws {RangeError} for a field that the row does not have, or that cannot be a signal. */
export function operationOf(
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
    optional: signal.optional === true,
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
    case "index": {
      if (unit !== "1") throw new RangeError(`${signal.quantity} is a count and no ${unit}`);
      return { ...operation, slots: [{ ...plain, quantity: signal.quantity }] };
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

/** Raw numbers from this one on are no values. */
export function numberBelow(columns: Columns, field: number): number {
  const kind = columns.kind[field];
  if (kind !== FieldKind.number && kind !== FieldKind.index) return -Infinity;
  const { notAvailableFrom, outOfRangeFrom, implausibleFrom } = columns;
  return Math.min(notAvailableFrom[field], outOfRangeFrom[field], implausibleFrom[field]);
}

/** A field of the row, or else of its groups. */
export function fieldNumber(name: string, row: number, pgn: number, columns: Columns): number {
  const own = columns.fieldOf(row, name);
  const field = own < 0 ? columns.groupFieldOf(row, name) : own;
  if (field < 0) throw new RangeError(`PGN ${pgn} has no field ${name}`);
  return field;
}
