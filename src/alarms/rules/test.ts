import type { Micros } from "../../ground/time.ts";
import type { Condition, Difference, Setpoint, SignalReference } from "./rule-parts.ts";

/** What a rule asks, by the key under which its file has it (semantics: contract §5, rules/README.md). */
export type Test =
  | LimitTest
  /** Active while the signal reads one of the words. */
  | { readonly kind: "reads"; readonly signal: SignalReference; readonly oneOf: readonly string[] }
  /** Active while every bit stands as written. */
  | {
    readonly kind: "bit-pattern";
    readonly bits: readonly { readonly signal: SignalReference; readonly on: boolean }[];
  }
  | { readonly kind: "not-heard"; readonly signal: SignalReference }
  /** Active while what was commanded and what is are known and not the same. */
  | { readonly kind: "discrepancy"; readonly commanded: Condition; readonly actual: Condition }
  | MeasuredTest;

export interface LimitTest {
  readonly kind: "low" | "high";
  readonly signal: SignalReference;
  readonly setpoint: Setpoint;
  readonly deadband: Difference;
}

/** Tests that first make a figure of what they follow, and hold that against a limit. */
export type MeasuredTest = DeviationTest | RateTest | CountTest | RunningTimeTest | MovedTest;

/** Two signals that should agree lie further apart than `limit`. */
export interface DeviationTest {
  readonly kind: "deviation";
  readonly signal: SignalReference;
  /** Null: the same signal of the other twin. */
  readonly against: SignalReference | null;
  readonly limit: Difference;
  readonly deadband: Difference;
  /** Beyond the usual difference of so much time of watching; null for the difference itself. */
  readonly usual: Micros | null;
}

/** The signal has changed by more than `change` from what it was `within` ago. */
export interface RateTest {
  readonly kind: "rate-of-change";
  readonly signal: SignalReference;
  readonly side: "rise" | "fall";
  readonly change: Difference;
  readonly within: Micros;
  readonly deadband: Difference;
}

/** A state began at least, or at most, so many times in the last `within`. */
export interface CountTest {
  readonly kind: "count";
  readonly startsOf: Condition;
  /** A start counts only after the state was known to be over for this long. */
  readonly rest: Micros;
  readonly within: Micros;
  readonly side: "at-least" | "at-most";
  readonly count: number;
  /** Given: and so many times as many as usual, learned over `window`. */
  readonly usual: { readonly window: Micros; readonly times: number } | null;
}

/** A state has lasted `atLeast` in the last `within`; in this one go where that is null. */
export interface RunningTimeTest {
  readonly kind: "running-time";
  readonly while: Condition;
  readonly within: Micros | null;
  readonly atLeast: Micros;
}

/** The boat lies further from a point than radius and fix error together. */
export interface MovedTest {
  readonly kind: "moved";
  /** Degrees; `anchor`: where she lay when a person said `anchored`; null: the boat file's mooring. */
  readonly from: { readonly latitude: number; readonly longitude: number } | "anchor" | null;
  /** Metres; null: the boat file's. */
  readonly radius: number | null;
  /** Metres. */
  readonly fixError: number;
  /** Metres. */
  readonly deadband: number;
}
