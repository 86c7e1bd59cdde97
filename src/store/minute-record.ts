import type { UnitCode } from "../units/codes.ts";

/** What one signal was like in one interval of a whole number of minutes. */
export type MinuteRecord = NumberRecord | WordRecord;

interface AnyRecord {
  /** Name of the signal. */
  readonly name: string;
  /** The interval's first minute, counted from the epoch. */
  readonly minute: number;
  /** Minutes from one record to the next; the first after a start tells of a part of them. */
  readonly length: number;
  /** Messages that brought the signal; 0 where an earlier value stood all the time. */
  readonly count: number;
}

export interface NumberRecord extends AnyRecord {
  readonly unit: UnitCode;
  readonly decimals: number;
  readonly min: number;
  /** Each value weighted by the time for which it stood. */
  readonly mean: number;
  readonly max: number;
}

/** An enumerated signal: what it read when the interval ended. */
export interface WordRecord extends AnyRecord {
  readonly word: string;
}
