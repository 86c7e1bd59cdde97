import type { Columns } from "./columns.ts";
import { type DecodedField, decodeField } from "./decode-message.ts";
import { readRaw } from "./read-field.ts";

/** How many groups a message of a row holds whole; what is cut off at its end is none. */
export function groupCount(
  columns: Columns,
  row: number,
  bytes: Uint8Array,
  start: number,
  length: number,
): number {
  const group = columns.groups[row];
  if (group === null || length < group.start) return 0;
  const whole = Math.floor((length - group.start) / group.length);
  if (group.count < 0) return whole;
  const said = readRaw(columns, group.count, bytes, start);
  return said < columns.notAvailableFrom[group.count] ? Math.min(whole, said) : whole;
}

/** The groups of a message as objects by field name, as `decodeMessage` gives its other fields. */
export function decodeGroups(
  columns: Columns,
  row: number,
  bytes: Uint8Array,
  start: number,
  length: number,
): Record<string, DecodedField>[] {
  const group = columns.groups[row];
  if (group === null) return [];
  const count = groupCount(columns, row, bytes, start, length);
  return Array.from({ length: count }, (_, number) => {
    const from = start + group.start + number * group.length;
    const decoded: Record<string, DecodedField> = {};
    for (let field = group.firstField; field < group.pastField; field++) {
      const { kind, name } = columns.fields[field];
      if (kind !== "reserved") decoded[name] = decodeField(columns, field, bytes, from);
    }
    return decoded;
  });
}
