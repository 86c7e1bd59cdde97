import { isoTime, type Micros } from "../../ground/time.ts";
import { Quality, QUALITY_WORDS, Reason, REASON_WORDS } from "../../boat/quality.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import { roundTo } from "../../units/rounding.ts";

/**
 * A signal as it lies on the broker: value in its unit, rounded by field, or a word; null where
 * quality is bad. `time` is when it was last heard or its quality changed, whichever is later.
 *
 * @param wallOf wall time of a steady time
 */
export function signalPayload(
  table: SignalTable,
  signal: number,
  wallOf: (steady: Micros) => Micros,
): string {
  const time = Math.max(table.heardAt(signal), table.changedAt[signal]);
  const reason = table.reasons[signal];
  return JSON.stringify({
    value: shownValue(table, signal),
    unit: table.facts[signal].unit,
    time: isoTime(wallOf(time), 3),
    quality: QUALITY_WORDS[table.qualities[signal]],
    reason: reason === Reason.none ? undefined : REASON_WORDS[reason],
  });
}

/** A signal that nobody brings any more: at a clean stop, or known only from before a restart. */
export function notHeardPayload(unit: string, wall: Micros): string {
  return JSON.stringify({
    value: null,
    unit,
    time: isoTime(wall, 3),
    quality: QUALITY_WORDS[Quality.bad],
    reason: REASON_WORDS[Reason.notHeard],
  });
}

function shownValue(table: SignalTable, signal: number): number | string | null {
  const value = table.values[signal];
  if (table.qualities[signal] === Quality.bad || !Number.isFinite(value)) return null;
  const facts = table.facts[signal];
  if (facts.words !== null) return facts.words.get(value) ?? `code-${value}`;
  return roundTo(value, facts.decimals);
}
