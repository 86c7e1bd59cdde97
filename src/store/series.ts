import { z } from "zod";
import { UNIT_CODES } from "../units/codes.ts";
import { packNumbers, packWords, unpackNumbers, unpackWords, withEntry } from "./minute-block.ts";
import type { MinuteRecord } from "./minute-record.ts";

z.config({ jitless: true });

/** What all records of one signal share; its words are numbered in the order of their coming. */
export const seriesRow = z.object({
  id: z.number(),
  name: z.string(),
  unit: z.enum(UNIT_CODES),
  decimals: z.number(),
  words: z.string().transform((text) => z.array(z.string()).parse(JSON.parse(text))).nullable(),
});
export type Series = z.output<typeof seriesRow>;

/** The records of an hour, counted from the epoch, as its block has them. */
export function recordsOf(series: Series, hour: number, bytes: Uint8Array): MinuteRecord[] {
  const { name, unit, decimals, words } = series;
  const first = hour * 60;
  if (words !== null) {
    return unpackWords(bytes).map(({ minute, length, count, word }) => ({
      name,
      minute: first + minute,
      length,
      count,
      word: words[word] ?? "",
    }));
  }
  return unpackNumbers(bytes, decimals).map((entry) => ({
    ...entry,
    name,
    unit,
    decimals,
    minute: first + entry.minute,
  }));
}

/**
 * The block with one more record. A signal that once was a number and now is a word, or the other
 * way, cannot stand in one series: such a record is left out.
 */
export function withRecord(series: Series, bytes: Uint8Array, record: MinuteRecord): Uint8Array {
  const { decimals, words } = series;
  const minute = record.minute - Math.floor(record.minute / 60) * 60;
  const { length, count } = record;
  if (words !== null) {
    if (!("word" in record)) return bytes;
    const entry = { minute, length, count, word: words.indexOf(record.word) };
    return packWords(withEntry(unpackWords(bytes), entry));
  }
  if ("word" in record) return bytes;
  const { min, mean, max } = record;
  const entry = { minute, length, count, min, mean, max };
  return packNumbers(withEntry(unpackNumbers(bytes, decimals), entry), decimals);
}
