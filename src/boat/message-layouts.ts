import type { Columns } from "../nmea2000/columns.ts";
import type { CatalogueEntry } from "./catalogue/entry.ts";
import { numberBelow, type Operation, operationOf, type SlotFacts } from "./operation.ts";
import { type RowKeys, rowKeys } from "./row-keys.ts";

/** How messages of a row become signals. */
export const Taking = {
  nothing: 0,
  /** The message as it is. */
  whole: 1,
  /** Each group of its tail by itself. */
  groups: 2,
  /** The message, and a list of trouble codes. */
  troubleCodes: 3,
} as const;
export type Taking = (typeof Taking)[keyof typeof Taking];

/** Trouble codes of one sender that become signals; more at once than a failing engine has. */
export const MOST_TROUBLE_CODES = 32;

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
  /** By row: `Taking`. */
  readonly taking: Uint8Array;
  /** By row, and one more: number of its first key part; by key part, see `KeyPart`. */
  readonly firstKey: Uint16Array;
  readonly keyAt: Uint8Array;
  readonly keyShift: Uint8Array;
  readonly keyMask: Uint8Array;
  readonly keyWidth: Uint8Array;
  readonly keyInGroup: Uint8Array;
  /** By layout: facts of its slots; trouble codes have theirs beyond these. */
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
    this.taking = Uint8Array.from(
      this.keys,
      (keys) => keys === null ? Taking.nothing : takingOf(keys.layouts.map((l) => this.entries[l])),
    );
    this.firstKey = new Uint16Array(this.keys.length + 1);
    for (const [row, keys] of this.keys.entries()) {
      this.firstKey[row + 1] = this.firstKey[row] + (keys?.parts.length ?? 0);
    }
    const parts = this.keys.flatMap((keys) => keys?.parts ?? []);
    this.keyAt = Uint8Array.from(parts, (part) => part.at);
    this.keyShift = Uint8Array.from(parts, (part) => part.shift);
    this.keyMask = Uint8Array.from(parts, (part) => part.mask);
    this.keyWidth = Uint8Array.from(parts, (part) => part.width);
    this.keyInGroup = Uint8Array.from(parts, (part) => part.inGroup ? 1 : 0);

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

  /** Slots that a carrier of a layout needs. */
  slotCount(layout: number): number {
    const more = this.entries[layout].troubleCodes ? MOST_TROUBLE_CODES : 0;
    return this.slots[layout].length + more;
  }
}

/** @throws {RangeError} for entries of one row that want different things. */
function takingOf(entries: readonly CatalogueEntry[]): Taking {
  const [taking, ...others] = new Set(entries.map(({ repeated, troubleCodes }) => {
    if (repeated) return Taking.groups;
    return troubleCodes ? Taking.troubleCodes : Taking.whole;
  }));
  if (others.length > 0) throw new RangeError(`PGN ${entries[0].pgn} is taken in several ways`);
  return taking;
}
