import { Quality } from "../../boat/quality.ts";
import type { SignalTable } from "../../boat/signal-table.ts";

/** What a signal reads; NaN while it is not good, or nothing sends it (-1). */
export function goodValue(table: SignalTable, signal: number): number {
  return signal >= 0 && table.qualities[signal] === Quality.good ? table.values[signal] : NaN;
}
