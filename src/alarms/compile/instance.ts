import type { Subject } from "../../boat/boat.ts";
import type { Micros } from "../../ground/time.ts";
import type { Rule } from "../rules/rule.ts";
import type { CurveTable } from "./curve-table.ts";
import type { LowestOf } from "./lowest-of.ts";

/** A rule tied to the signals of one subject. Signal numbers are -1 while nothing sends them. */
export interface Instance {
  readonly rule: Rule;
  readonly subject: string;
  /** The boat file's words about the subject; null where it says nothing. */
  readonly described: Subject | null;
  /** The signal that is judged, as `event` names it; the first of a bit pattern. */
  readonly signal: number;
  readonly signalName: string;
  readonly test: TiedTest;
  /** Step of the condition program; -1: always watching. */
  readonly watchStep: number;
  /** `held` steps of the condition, inner ones first. */
  readonly held: readonly HeldStep[];
  /** Signals of the condition. */
  readonly watchSignals: readonly number[];
  /** Names of signals that nothing sends yet. */
  readonly missing: readonly string[];
  /** Why the rule can never be judged for this subject; empty while it can. */
  readonly reason: string;
}

export interface HeldStep {
  readonly step: number;
  readonly length: Micros;
}

export type TiedTest =
  | TiedLimit
  | { readonly kind: "reads"; readonly codes: readonly number[] }
  | { readonly kind: "bit-pattern"; readonly signals: readonly number[]; readonly on: boolean[] }
  | { readonly kind: "not-heard" };

export interface TiedLimit {
  readonly kind: "low" | "high";
  /** In the signal's unit; NaN where a curve gives it. */
  readonly limit: number;
  /** In the signal's unit, beside `deadbandShare` of the limit. */
  readonly deadband: number;
  readonly deadbandShare: number;
  readonly hair: number;
  readonly curve: TiedCurve | null;
}

export interface TiedCurve {
  readonly table: CurveTable;
  readonly along: number;
  /** Null: read at the present value. */
  readonly window: LowestOf | null;
}
