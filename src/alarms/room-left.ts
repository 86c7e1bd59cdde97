import { type Micros, SECOND } from "../ground/time.ts";
import type { RoomLeft } from "./change.ts";
import { hasRoom, type Instance, type TiedMeasure } from "./compile/instance.ts";
import { roundTo } from "../units/rounding.ts";
import { compare } from "./compile/unfold.ts";
import { judgedValue, shownLimit } from "./judged-value.ts";
import { figureAt } from "./measures/measure.ts";
import { reasonUnjudged, type Standing } from "./not-judged.ts";

/** How far a signal is from its limit (contract §5); null for the kinds that have no distance. */
export function roomLeftOf(
  instance: Instance,
  standing: Standing,
  now: Micros,
): RoomLeft | null {
  const parts = partsOf(instance, standing, now);
  if (parts === null) return null;
  const { rule: { tag, title, priority }, subject, signalName: signal } = instance;
  const reason = reasonUnjudged(instance, standing) || parts.lack;
  const room = reason === "" ? roomOf(instance, standing, now) : null;
  const { kind, value, setpoint, unit, side } = parts;
  return { tag, title, priority, subject, signal, kind, value, setpoint, unit, side, room, reason };
}

/** The room alone, of a rule that is judged now; NaN where it has none. */
export function roomOf(
  { test, signal, rule }: Instance,
  { limit, oldAge, table }: Standing,
  now: Micros,
): number {
  switch (test.kind) {
    case "low":
      return (table.values[signal] - limit) / (table.facts[signal].span ?? NaN);
    case "high":
      return (limit - table.values[signal]) / (table.facts[signal].span ?? NaN);
    case "not-heard": {
      const delay = Math.max(rule.onDelay, oldAge);
      return (delay - (now - table.heardAt(signal))) / delay;
    }
    case "measured": {
      if (!hasRoom(test)) return NaN;
      const figure = figureAt(test.measure, now);
      return (test.side === "high" ? test.limit - figure : figure - test.limit) / test.limit;
    }
    default:
      return NaN;
  }
}

/** Least room first; without a number last. */
export function roomOrder(a: RoomLeft, b: RoomLeft): number {
  return (a.room ?? Infinity) - (b.room ?? Infinity) || compare(a.tag, b.tag) ||
    compare(a.subject, b.subject);
}

type Parts = Pick<RoomLeft, "kind" | "value" | "setpoint" | "unit" | "side"> & {
  /** Why it has no room although it is judged; empty where it has. */
  readonly lack: string;
};

function partsOf(instance: Instance, standing: Standing, now: Micros): Parts | null {
  const { test } = instance;
  switch (test.kind) {
    case "low":
    case "high":
      return limitParts(instance, test.kind, standing, now);
    case "not-heard":
      return ageParts(instance, standing, now);
    case "measured":
      return hasRoom(test) ? figureParts(instance, test, standing, now) : null;
    case "reads":
    case "bit-pattern":
    case "discrepancy":
    case "unjudged":
      return null;
  }
}

function limitParts(
  instance: Instance,
  side: "low" | "high",
  { limit, table }: Standing,
  now: Micros,
): Parts {
  const { signal } = instance;
  const value = judgedValue(instance, table, now);
  const facts = signal < 0 ? null : table.facts[signal];
  return {
    kind: "reading",
    value: typeof value === "number" ? value : null,
    setpoint: shownLimit(limit, instance, table),
    unit: facts?.unit ?? "",
    side,
    lack: facts?.span === null ? "no usual range" : "",
  };
}

/** Its room is a share of the limit itself. */
function figureParts(
  instance: Instance,
  test: TiedMeasure,
  { table }: Standing,
  now: Micros,
): Parts {
  const value = roundTo(figureAt(test.measure, now), test.decimals);
  return {
    kind: test.isDifference ? "difference" : "figure",
    value: Number.isNaN(value) ? null : value,
    setpoint: shownLimit(test.limit, instance, table),
    unit: test.unit,
    side: test.side,
    lack: "",
  };
}

function ageParts({ signal, rule }: Instance, { oldAge, table }: Standing, now: Micros): Parts {
  const heard = signal < 0 ? 0 : table.heardAt(signal);
  const delay = Math.max(rule.onDelay, oldAge);
  return {
    kind: "age",
    value: heard === 0 ? null : (now - heard) / SECOND,
    setpoint: delay === Infinity ? null : delay / SECOND,
    unit: "s",
    side: "high",
    lack: "",
  };
}
