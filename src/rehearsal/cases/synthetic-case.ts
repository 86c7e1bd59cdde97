import type { SignalFacts } from "../../boat/signal-table.ts";
import type { Micros } from "../../ground/time.ts";
import type { Expectations } from "../expectations/expectations.ts";
import type { Step } from "./signal-course.ts";

/** What no recording has: signals that take the course that a person wrote (contract §2). */
export interface SyntheticCase {
  readonly signals: readonly CaseSignal[];
  readonly expectations: Expectations;
  /** How long it goes on. */
  readonly lasting: Micros;
}

export interface CaseSignal {
  readonly facts: SignalFacts;
  /** How often it is said, as its message usually is; Infinity: only at its steps. */
  readonly period: Micros;
  /** Rising in `at`. */
  readonly steps: readonly Step[];
}
