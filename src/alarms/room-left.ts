import { type Micros, SECOND } from "../ground/time.ts";
import { roundTo } from "../units/rounding.ts";
import type { RoomLeft } from "./change.ts";
import type { Instance } from "./compile/instance.ts";
import { compare } from "./compile/unfold.ts";
import { reasonUnjudged, type Standing } from "./not-judged.ts";
import { valueNow } from "./signal-words.ts";

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
    case "reads":
    case "bit-pattern":
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
  const value = valueNow(table, signal);
  const facts = signal < 0 ? null : table.facts[signal];
  const reason = reasonUnjudged(instance, standing) ||
    (facts?.span === null ? "no usual range" : "");
  const distance = side === "low" ? table.values[signal] - limit : limit - table.values[signal];
  return {
    ...headOf(instance),
    value: typeof value === "number" ? value : null,
    setpoint: Number.isNaN(limit) ? null : roundTo(limit, facts?.decimals ?? 0),
    unit: facts?.unit ?? "",
    side,
    room: reason === "" ? distance / (facts?.span ?? NaN) : null,
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
