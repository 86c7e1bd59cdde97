import type { Micros } from "../ground/time.ts";
import type { Fault } from "./fault.ts";
import { isEngineFault } from "./faults/engine-fault.ts";
import { isHullFault } from "./faults/hull-fault.ts";
import { isPowerFault } from "./faults/power-fault.ts";
import { isSenderFault } from "./faults/sender-fault.ts";
import type { Scenario } from "./happening.ts";

/** What really went wrong in a story, to hold against what was noticed. */
export interface Truth {
  readonly name: string;
  /** The boat itself, a sender that tells less or other than the truth, or the bus. */
  readonly of: "boat" | "sender" | "network";
  /**
   * Whom it befell: an engine, bilge or tank by its own name, "house", "start", "shore", a device by
   * its name (an engine's gateway by the engine's), or "boat".
   */
  readonly subject: string;
  /** Since the story began. */
  readonly began: Micros;
  /** Null: it lasted until the end. */
  readonly ended: Micros | null;
  /** In full, with its size. */
  readonly fault: Fault;
}

/** The faults of a story in order of their beginning. */
export function truthOf({ happenings }: Scenario): Truth[] {
  const truth: Truth[] = [];
  for (const happening of happenings) {
    if (happening.do !== "fault") continue;
    const { at: began, fault } = happening;
    const [name, subject] = [faultName(fault), subjectOf(fault)];
    const end = happenings.find((later) =>
      later.do === "repair" && later.at >= began && faultName(later.fault) === name &&
      subjectOf(later.fault) === subject
    );
    truth.push({ name, of: realmOf(fault), subject, began, ended: end?.at ?? null, fault });
  }
  return truth;
}

/** One word for a fault: its kind, and what kind of reading or belief where there are several. */
export function faultName(fault: Fault): string {
  switch (fault.kind) {
    case "reading":
      return `${fault.kind}-${fault.reads}`;
    case "receiver-believes":
      return `${fault.kind}-${fault.what}`;
    default:
      return fault.kind;
  }
}

function realmOf(fault: Fault): Truth["of"] {
  if (isEngineFault(fault) || isPowerFault(fault) || isHullFault(fault)) return "boat";
  return isSenderFault(fault) ? "sender" : "network";
}

function subjectOf(fault: Fault): string {
  if ("engine" in fault) return fault.engine;
  if ("bilge" in fault) return fault.bilge;
  if ("tank" in fault) return fault.tank;
  if ("device" in fault) return fault.device.replace("-gateway", "");
  switch (fault.kind) {
    case "charger-fault":
    case "charger-asleep":
    case "charger-overcharges":
    case "shore-power-lost":
      return "shore";
    case "house-opens":
    case "shunt-reversed":
      return "house";
    case "start-battery-tired":
      return "start";
    default:
      return "boat";
  }
}
