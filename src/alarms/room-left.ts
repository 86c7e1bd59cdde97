import { type Micros, SECOND } from "../ground/time.ts";
import type { RoomLeft } from "./change.ts";
import type { Instance, TiedMeasure } from "./compile/instance.ts";
import { compare } from "./compile/unfold.ts";
import { judgedValue, shownLimit } from "./judged-value.ts";
import { reasonUnjudged, type Standing } from "./not-judged.ts";

/** How far a signal is from its limit (contract §5); null for the kinds that have no distance. */
export function roomLeftOf(
  instance: Instance,
  standing: Standing,
  now: Micros,
): RoomLeft | null {
  const { test } = instance;
  switch (test.kind) {
    case "low":
    case "high":
      return roomToLimit(instance, test.kind, standing);
    case "not-heard":
      return roomToAge(instance, standing, now);
    case "measured":
      return test.side === "high" ? roomOfFigure(instance, test, standing) : null;
    case "reads":
    case "bit-pattern":
    case "discrepancy":
    case "unjudged":
      return null;
  }
}

/** Least room first; without a number last. */
export function roomOrder(a: RoomLeft, b: RoomLeft): number {
  return (a.room ?? Infinity) - (b.room ?? Infinity) || compare(a.tag, b.tag) ||
    compare(a.subject, b.subject);
}

function roomToLimit(
  instance: Instance,
  side: "low" | "high",
  standing: Standing,
): RoomLeft {
  const { signal } = instance;
  const { limit, table } = standing;
  const value = judgedValue(instance, table);
  const facts = signal < 0 ? null : table.facts[signal];
  const reason = reasonUnjudged(instance, standing) ||
    (facts?.span === null ? "no usual range" : "");
  const distance = side === "low" ? table.values[signal] - limit : limit - table.values[signal];
  return {
    ...headOf(instance),
    value: typeof value === "number" ? value : null,
    setpoint: shownLimit(limit, instance, table),
    unit: facts?.unit ?? "",
    side,
    room: reason === "" ? distance / (facts?.span ?? NaN) : null,
    reason,
  };
}

/** A share of the limit itself. */
function roomOfFigure(instance: Instance, test: TiedMeasure, standing: Standing): RoomLeft {
  const { table } = standing;
  const { limit, measure: { figure } } = test;
  const reason = reasonUnjudged(instance, standing);
  const value = judgedValue(instance, table);
  return {
    ...headOf(instance),
    value: typeof value === "number" ? value : null,
    setpoint: shownLimit(limit, instance, table),
    unit: test.unit,
    side: "high",
    room: reason === "" ? (limit - figure) / limit : null,
    reason,
  };
}

function roomToAge(instance: Instance, standing: Standing, now: Micros): RoomLeft {
  const heard = instance.signal < 0 ? 0 : standing.table.heardAt(instance.signal);
  const delay = Math.max(instance.rule.onDelay, standing.oldAge);
  const age = now - heard;
  const reason = reasonUnjudged(instance, standing);
  return {
    ...headOf(instance),
    value: heard === 0 ? null : age / SECOND,
    setpoint: delay === Infinity ? null : delay / SECOND,
    unit: "s",
    side: "high",
    room: reason === "" ? (delay - age) / delay : null,
    reason,
  };
}

function headOf({ rule, subject, signalName }: Instance) {
  const { tag, title, priority } = rule;
  return { tag, subject, title, priority, signal: signalName };
}
