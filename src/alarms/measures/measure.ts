import type { SignalTable } from "../../boat/signal-table.ts";
import type { Micros } from "../../ground/time.ts";
import type { ConditionProgram } from "../compile/condition-program.ts";

/** Where a measure reads what it follows. */
export interface Readings {
  readonly table: SignalTable;
  readonly program: ConditionProgram;
}

/**
 * Makes one figure of what it follows, for a test that holds it against a limit. Order of calls:
 * `follow` whenever what it follows has changed, and when `nextDue` is reached.
 */
export interface Measure {
  /** NaN while not known. */
  readonly figure: number;
  /** The figure at an instant after the last call; absent: it stands still until the next. */
  figureAt?(now: Micros): number;
  /** When the figure may change though nothing comes; Infinity for never. */
  readonly nextDue: Micros;
  /** Whether what it has gathered survives a restart. */
  readonly isKept: boolean;
  /** What is still wanting while the figure is not known though what it follows is; absent: time. */
  readonly lack?: string;
  /**
   * Whether nothing of what it follows counts but the answers of its conditions: then it is told when
   * one of them may have changed, and not at each message.
   */
  readonly isOfAnswers: boolean;
  /** @param mayLearn whether this is a time from which to learn what is usual */
  follow(readings: Readings, now: Micros, mayLearn: boolean): void;
  /** Goes on with what a measure of the same rule and subject had gathered. */
  adopt(earlier: Measure): void;
  /** What must survive a restart, as plain data without instants; null for nothing. */
  keep(now: Micros): MeasureRecord | null;
  /** Goes on with what was kept before a restart. */
  recall(record: MeasureRecord, now: Micros): void;
}

/** The figure at an instant. */
export function figureAt(measure: Measure, now: Micros): number {
  return measure.figureAt?.(now) ?? measure.figure;
}

/** Plain numbers, by names that the kind of measure gives them. */
export type MeasureRecord = Readonly<Record<string, readonly number[]>>;
