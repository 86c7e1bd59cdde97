import type { Subject } from "../../boat/boat.ts";
import type { Micros } from "../../ground/time.ts";
import type { UnitCode } from "../../units/codes.ts";
import type { Measure } from "../measures/measure.ts";
import type { Rule } from "../rules/rule.ts";
import type { CurveTable } from "./curve-table.ts";
import type { LowestOf } from "../measures/lowest-of.ts";

/** A rule tied to the signals of one subject. Signal numbers are -1 while nothing sends them. */
export interface Instance {
  readonly rule: Rule;
  readonly subject: string;
  /** The boat file's words about the subject; null where it says nothing. */
  readonly described: Subject | null;
  /** The two engines of a rule about a pair; null for every other. */
  readonly twins: readonly [string, string] | null;
  /** The signal that is judged, as `event` names it; the first of a bit pattern. */
  readonly signal: number;
  readonly signalName: string;
  readonly test: TiedTest;
  /** Its conditions lie in the program from this step up to `endStep`. */
  readonly firstStep: number;
  readonly endStep: number;
  /** Signals that the test follows beside `signal`. */
  readonly testSignals: readonly number[];
  /** Step of the condition program; -1: always watching. */
  readonly watchStep: number;
  /** `held` steps of all its conditions, inner ones first. */
  readonly held: readonly HeldStep[];
  /** Signals of the condition that watches. */
  readonly watchSignals: readonly number[];
  /** Step of the condition under which it is suppressed; -1: never. */
  readonly suppressStep: number;
  readonly suppressSignals: readonly number[];
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
  | { readonly kind: "not-heard" }
  /** Steps of the program whose answers are compared. */
  | {
    readonly kind: "discrepancy";
    readonly commanded: number;
    readonly actual: number;
    readonly commandedName: string;
  }
  | TiedMeasure
  | Unjudged;

/** That another instance should watch and cannot be judged. */
export interface Unjudged {
  readonly kind: "unjudged";
  /** Place of that instance. */
  readonly of: number;
  /** Signal of its engine's condition, -1 while nobody sends it; null where it has no engine. */
  readonly condition: number | null;
  /** Signal that counts the frames of its network; null where that is taken to speak. */
  readonly frames: number | null;
}

/** A figure held against a limit. */
export interface TiedMeasure {
  readonly kind: "measured";
  readonly measure: Measure;
  /** Which side of the limit is wrong. */
  readonly side: "low" | "high";
  /** Whether to reach the limit is enough. */
  readonly isReached: boolean;
  readonly limit: number;
  readonly deadband: number;
  readonly hair: number;
  /** Of the figure. */
  readonly unit: UnitCode;
  readonly decimals: number;
  /** The figure is a difference of two values, not a value. */
  readonly isDifference: boolean;
  /** The signal with which a deviation compares; otherwise empty. */
  readonly otherName: string;
}

/** Of what must come often enough nobody can say how often it still will. */
export function hasRoom({ side, isReached }: TiedMeasure): boolean {
  return side === "high" || !isReached;
}

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
