import type { Columns } from "./columns.ts";
import { groupCount } from "./groups.ts";
import { readRaw } from "./read-field.ts";

/** DM1: what is wrong now. */
export const ACTIVE_TROUBLE_CODES = 65226;
/** DM2: what was wrong before. */
export const EARLIER_TROUBLE_CODES = 65227;

/** One entry of a list of trouble codes. */
export interface TroubleCode {
  /** Suspect parameter number: which part or quantity; see `SUSPECT_PARAMETERS`. */
  readonly spn: number;
  /** Failure mode identifier: what is wrong with it; see `FAILURE_MODES`. */
  readonly fmi: number;
  /** How often it became active; null where the device does not count. */
  readonly occurrences: number | null;
  /** The number is laid out in an old way, of which there were three: `spn` is a guess. */
  readonly oldLayout: boolean;
}

const ALL_ONES = 0xff;

/**
 * The trouble codes in a message of a row that repeats them (DM1, DM2). A list that has none is sent
 * as one entry of zeros or of ones, which is left out.
 */
export function troubleCodesOf(
  columns: Columns,
  row: number,
  bytes: Uint8Array,
  start: number,
  length: number,
): TroubleCode[] {
  const group = columns.groups[row];
  const spn = columns.groupFieldOf(row, "spn");
  const fmi = columns.groupFieldOf(row, "fmi");
  const occurrences = columns.groupFieldOf(row, "occurrences");
  const oldLayout = columns.groupFieldOf(row, "old-layout");
  if (group === null || spn < 0 || fmi < 0) return [];
  const codes: TroubleCode[] = [];
  const count = groupCount(columns, row, bytes, start, length);
  for (let number = 0; number < count; number++) {
    const from = start + group.start + number * group.length;
    const entry = bytes.subarray(from, from + group.length);
    if (entry.every((byte) => byte === 0) || entry.every((byte) => byte === ALL_ONES)) continue;
    const times = readRaw(columns, occurrences, bytes, from);
    codes.push({
      spn: readRaw(columns, spn, bytes, from),
      fmi: readRaw(columns, fmi, bytes, from),
      occurrences: times < columns.notAvailableFrom[occurrences] ? times : null,
      oldLayout: readRaw(columns, oldLayout, bytes, from) === 1,
    });
  }
  return codes;
}
