import type { AlarmChange } from "../alarms/change.ts";
import type { Priority } from "../alarms/words.ts";
import type { Micros } from "../ground/time.ts";
import type { UnitCode } from "../units/codes.ts";
import type { RunPart } from "./run.ts";
import type { ClockSetting } from "./run-time.ts";
import type { RunTraces } from "./traces.ts";

/** What one run brought, as plain data: it can come from another thread. Times by the run. */
export interface RunRecord {
  readonly parts: readonly RunPart[];
  readonly begins: Micros;
  readonly ends: Micros;
  readonly changes: readonly AlarmChange[];
  /** What the run before has left standing, as changes in which nothing moves. */
  readonly stood: readonly AlarmChange[];
  /** The same as `run` tells them, by the wall's clock. */
  readonly told: readonly AlarmChange[];
  readonly clockSettings: readonly ClockSetting[];
  /** Beside `changes`: what the boat was doing, in words; empty where nothing tells. */
  readonly doing: readonly string[];
  /** Changes of hidden rules. */
  readonly hidden: readonly AlarmChange[];
  /** In the order of (tag, subject). */
  readonly rules: readonly RuleFigures[];
  readonly endedEarly: readonly string[];
  /** What a report draws; null where none was wanted. */
  readonly traces: RunTraces | null;
}

/** What one rule did for one subject in a run. */
export interface RuleFigures {
  readonly tag: string;
  /** Empty where the boat has no subject that the rule means. */
  readonly subject: string;
  readonly title: string;
  readonly priority: Priority;
  /** As judged once a second; null for kinds that have no distance, and where it never was known. */
  readonly least: LeastRoom | null;
  /**
   * `judged` at some second; `not-watching`: its own condition never let it judge; `no-data`: it
   * should have judged and never could; `for-nothing`: the boat file has nothing that it could mean.
   */
  readonly standing: "judged" | "not-watching" | "no-data" | "for-nothing";
  /** Why it could not be judged, the last time that it could not; empty where it always could. */
  readonly reason: string;
}

export interface LeastRoom {
  /** Share of the usual range; negative beyond the limit. */
  readonly room: number;
  readonly at: Micros;
  readonly signal: string;
  readonly value: number | null;
  readonly setpoint: number | null;
  readonly unit: UnitCode;
}
