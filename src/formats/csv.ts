import { Quality, QUALITY_WORDS } from "../boat/quality.ts";
import type { SignalTable } from "../boat/signal-table.ts";
import { isoTime, type Micros } from "../ground/time.ts";
import { roundedText } from "../units/rounding.ts";

/** RFC 4180: lines end in CRLF, the first names the columns. */
export const CSV_HEADER = "time,signal,value,unit,quality\r\n";

/**
 * One line for each signal as it stands, in the order given (contract §3).
 * @param time wall time that the lines carry
 */
export function csvRows(table: SignalTable, signals: readonly number[], time: Micros): string {
  const stamp = isoTime(time, 6);
  let lines = "";
  for (const signal of signals) {
    const { name, unit } = table.facts[signal];
    const quality = QUALITY_WORDS[table.qualities[signal]];
    lines += `${stamp},${field(name)},${field(valueText(table, signal))},${unit},${quality}\r\n`;
  }
  return lines;
}

/** Empty where the quality is bad; the word of an enumerated signal. */
function valueText(table: SignalTable, signal: number): string {
  if (table.qualities[signal] === Quality.bad) return "";
  const { words, decimals } = table.facts[signal];
  const value = table.values[signal];
  return words === null ? roundedText(value, decimals) : words.get(value) ?? "";
}

/** RFC 4180 §2, rules 5 to 7. */
function field(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
