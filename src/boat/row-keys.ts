import type { Columns } from "../nmea2000/columns.ts";
import type { CatalogueEntry } from "./catalogue/entry.ts";
import { fieldNumber } from "./operation.ts";

/** Part of an instance key: a field inside one byte. */
export interface KeyPart {
  readonly name: string;
  readonly at: number;
  readonly shift: number;
  readonly mask: number;
  readonly width: number;
  readonly words: ReadonlyMap<number, string> | null;
  /** Counted from the start of each group, not of the message. */
  readonly inGroup: boolean;
}

/** Instance keys of one row, at most 16 bits together. */
export interface RowKeys {
  readonly parts: readonly KeyPart[];
  /** Layouts of the row, in the order in which they are tried. */
  readonly layouts: readonly number[];
}

/** Null where no field of the row makes a signal. @throws {RangeError} for keys of too many bits. */
export function rowKeys(
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
    for (const field of Object.keys(when ?? {})) names.add(field);
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
    inGroup: columns.groupFieldOf(row, name) === field,
  };
}
