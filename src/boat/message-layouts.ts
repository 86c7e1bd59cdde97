import type { Columns } from "../nmea2000/columns.ts";
import type { CatalogueEntry } from "./catalogue/entry.ts";
import { type Operation, operationOf, type SlotFacts } from "./operation.ts";
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
  /** By layout: facts of its slots; trouble codes have theirs beyond these. */
  readonly slots: readonly (readonly SlotFacts[])[];

  /** By layout, and one more. */
  readonly firstOperation: Uint16Array;
  readonly operations: readonly Operation[];
  /** By operation: number of its field in the columns. */
  readonly field: Uint16Array;
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
    this.operations = operations;
    this.field = Uint16Array.from(operations, (operation) => operation.field);
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
