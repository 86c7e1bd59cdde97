import type { SignalTable } from "../boat/signal-table.ts";
import type { UnitCode } from "../units/codes.ts";
import { roundTo } from "../units/rounding.ts";
import type { Micros } from "../ground/time.ts";
import type { Instance } from "./compile/instance.ts";
import { figureAt } from "./measures/measure.ts";
import { valueNow } from "./signal-words.ts";

/**
 * What a rule holds against its limit: the figure of a measure, else what the signal reads; null
 * while that is not known, and for what is not heard.
 */
export function judgedValue({ test, signal }: Instance, table: SignalTable, now: Micros) {
  if (test.kind === "not-heard" || test.kind === "unjudged") return null;
  if (test.kind !== "measured") return valueNow(table, signal);
  const figure = figureAt(test.measure, now);
  return Number.isNaN(figure) ? null : roundTo(figure, test.decimals);
}

/** The unit of value and limit; undefined while nothing sends the signal. */
export function judgedUnit({ test, signal }: Instance, table: SignalTable): UnitCode | undefined {
  if (test.kind === "measured") return test.unit;
  return signal < 0 ? undefined : table.facts[signal].unit;
}

/** A limit as it is shown and written; null where there is none, or it is not known. */
export function shownLimit(
  limit: number,
  { test, signal }: Instance,
  table: SignalTable,
): number | null {
  if (Number.isNaN(limit)) return null;
  if (test.kind === "measured") return roundTo(limit, test.decimals);
  return roundTo(limit, signal < 0 ? 0 : table.facts[signal].decimals);
}
