import { z } from "zod";
import { resolve, type ResolvedRecord, senmlPack, senmlUnit } from "../../formats/senml.ts";
import type { Sheet } from "../../store/history.ts";
import type { MinuteRecord } from "../../store/minute-record.ts";
import type { UnitCode } from "../../units/codes.ts";
import { roundTo } from "../../units/rounding.ts";

z.config({ jitless: true });

/** A message of history is at most so large, in bytes. */
export const LARGEST_PACK = 64 * 1024;

/** Which sheets a pack brings: labels of our own in its first record (RFC 8428 §4.4). */
const packLabels = z.object({
  epoch: z.string(),
  from: z.int().min(1),
  to: z.int().min(1),
});
export type PackLabels = z.output<typeof packLabels>;

/**
 * Sheets as one pack of SenML (RFC 8428): for each signal and interval `NAME/min`, `/mean`, `/max` and
 * `/count`, or `NAME/last` and `/count` of words. `t` is the interval's start; `ut` is its length in
 * seconds where that is not a minute.
 */
export function historyPack(base: string, epoch: string, sheets: readonly Sheet[]): string {
  const records = sheets.flatMap((sheet) => sheet.records)
    .toSorted((one, other) => compare(one.name, other.name) || one.minute - other.minute);
  const start = Math.min(...records.map(({ minute }) => minute)) * 60;
  const labels = { bt: start, epoch, from: sheets[0].number, to: sheets[sheets.length - 1].number };
  let first: object = labels;
  let name = "";
  const written: string[] = [];
  for (const record of records) {
    const fields = fieldsOf(record);
    const whole = `${base}${record.name}${fields.suffix}/`;
    const t = record.minute * 60 - start || undefined;
    const ut = record.length === 1 ? undefined : record.length * 60;
    for (const { n, u, v, vs } of fields.list) {
      const bn = whole === name ? undefined : whole;
      name = whole;
      written.push(JSON.stringify({ bn, ...first, n, u, v, vs, t, ut }));
      first = {};
    }
  }
  return `[${written.join(",")}]`;
}

/** The most sheets, from the first on, that are at most one pack and tell of at most so many minutes. */
export function fittingSheets(
  base: string,
  epoch: string,
  sheets: readonly Sheet[],
  minutes: number,
): readonly Sheet[] {
  let size = 0;
  let start = Infinity;
  for (const [count, sheet] of sheets.entries()) {
    if (sheet.records.length === 0) continue;
    // Together they are smaller than the sum: names stand once.
    size += historyPack(base, epoch, [sheet]).length;
    start = Math.min(start, endOf(sheet));
    const fits = size <= LARGEST_PACK && endOf(sheet) - start < minutes;
    if (!fits && count > 0) return sheets.slice(0, count);
  }
  return sheets;
}

export interface ReadPack extends PackLabels {
  readonly records: readonly MinuteRecord[];
}

/**
 * Reads what `historyPack` has written; undefined for anything else.
 * @param unitOf the unit in which the signal is kept
 */
export function readHistoryPack(
  text: string,
  base: string,
  unitOf: (name: string, senml: string | undefined) => UnitCode,
): ReadPack | undefined {
  const content = parsed(text);
  const pack = senmlPack.safeParse(content);
  const labels = packLabels.safeParse(Array.isArray(content) ? content[0] : undefined);
  if (!pack.success || !labels.success || labels.data.from > labels.data.to) return undefined;
  const groups = Map.groupBy(
    resolve(pack.data, 0).filter(({ n }) => n.startsWith(base) && n.includes("/")),
    ({ n, t }) => `${t} ${n.slice(base.length, n.lastIndexOf("/"))}`,
  );
  const records = [...groups].map(([key, parts]) =>
    readRecord(key.slice(key.indexOf(" ") + 1), parts, unitOf)
  );
  return { ...labels.data, records: records.filter((record) => record !== undefined) };
}

/** Decimals of what is read back: finer than any sender, coarser than the noise of conversion. */
const READ_DECIMALS = 4;

function readRecord(
  said: string,
  parts: readonly ResolvedRecord[],
  unitOf: (name: string, senml: string | undefined) => UnitCode,
): MinuteRecord | undefined {
  const part = (last: string) => parts.find(({ n }) => n.endsWith(`/${last}`));
  const [min, mean, max, word] = ["min", "mean", "max", "last"].map(part);
  const name = said.replace(/-rad-per-s$/, "");
  const place = {
    name,
    minute: Math.floor(parts[0].t / 60),
    length: Math.round((parts[0].ut ?? 60) / 60),
    count: part("count")?.v ?? 0,
  };
  if (word?.vs !== undefined) return { ...place, word: word.vs };
  if (min?.v === undefined || mean?.v === undefined || max?.v === undefined) return undefined;
  const unit = name === said ? unitOf(name, min.u) : "deg/s";
  const { factor } = senmlUnit(unit, name);
  const decimals = name.startsWith("position/") ? 7 : READ_DECIMALS;
  return {
    ...place,
    unit,
    decimals,
    min: roundTo(min.v / factor, decimals),
    mean: roundTo(mean.v / factor, decimals + 2),
    max: roundTo(max.v / factor, decimals),
  };
}

interface Fields {
  readonly suffix: string;
  readonly list: readonly { n: string; u?: string; v?: number; vs?: string }[];
}

function fieldsOf(record: MinuteRecord): Fields {
  const count = { n: "count", v: record.count };
  if ("word" in record) return { suffix: "", list: [{ n: "last", vs: record.word }, count] };
  const { unit: u, factor, suffix = "" } = senmlUnit(record.unit, record.name);
  const numbers = (["min", "mean", "max"] as const)
    .map((n) => ({ n, u, v: written(record[n] * factor) }));
  return { suffix, list: [...numbers, count] };
}

/** Ten digits: more than any sender has, without the tail of binary fractions. */
function written(value: number): number {
  return Number(value.toPrecision(10));
}

function endOf({ records }: Sheet): number {
  return records[0].minute + records[0].length;
}

function compare(one: string, other: string): number {
  return one < other ? -1 : one > other ? 1 : 0;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
