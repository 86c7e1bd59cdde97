import type { Micros } from "../../ground/time.ts";
import type { UnitCode } from "../../units/codes.ts";
import type { Priority } from "../words.ts";
import type { Test } from "./test.ts";

/** One rule as its owner wrote it, read and checked, as plain data. */
export interface Rule {
  /** Topic-safe, unique in a rule set. */
  readonly tag: string;
  readonly title: string;
  /**
   * The group over whose subjects the rule unfolds, or `engine-pair`; null for a rule about the boat.
   */
  readonly each: string | null;
  /** Words that a subject must have in the boat file: `fuel: diesel`. */
  readonly where: Readonly<Record<string, string>>;
  /** The only subjects; null for all. */
  readonly only: readonly string[] | null;
  readonly test: Test;
  /** Null: always watching. */
  readonly watchWhile: Condition | null;
  readonly onDelay: Micros;
  readonly offDelay: Micros;
  readonly priority: Priority;
  readonly consequence: string;
  readonly response: { readonly aboard: string; readonly ashore: string };
}

/**
 * A signal as a rule names it. A plain name is of the rule's own subject (`oil-pressure`); one with
 * a group is absolute (`sea/temperature`); `of` follows a relation to a subject of that group.
 */
export interface SignalReference {
  readonly name: string;
  readonly of: string | null;
}

/** A number in the base unit of its dimension (`units/`), and as written, for sentences. */
export interface Amount {
  readonly value: number;
  readonly code: UnitCode;
  readonly written: string;
}

export type Setpoint =
  | { readonly kind: "fixed"; readonly amount: Amount }
  /** `103 % of rated-speed`: a share of a number of the boat file. */
  | { readonly kind: "share-of"; readonly share: number; readonly number: string }
  /** `12.2 V per 12 V`: scales with the subject's `nominal` voltage. */
  | { readonly kind: "per-nominal"; readonly amount: Amount; readonly per: Amount }
  | Curve;

/** Straight lines between points, flat beyond both ends. */
export interface Curve {
  readonly kind: "curve";
  readonly along: SignalReference;
  /** The curve is read at the lowest value of this last time; 0 for the present value. */
  readonly lowestOf: Micros;
  /** Rising in `at`. */
  readonly points: readonly { readonly at: Amount; readonly limit: Amount }[];
}

/** How far apart two values are. */
export type Difference =
  | { readonly kind: "fixed"; readonly amount: Amount }
  | { readonly kind: "per-nominal"; readonly amount: Amount; readonly per: Amount }
  /** Of the setpoint or the greater value; in percentage points where the signal is in %. */
  | { readonly kind: "share"; readonly percent: number };

export type Condition =
  | { readonly kind: "all" | "any"; readonly of: readonly Condition[] }
  | { readonly kind: "not"; readonly of: Condition }
  /** Strict. */
  | { readonly kind: "over" | "under"; readonly signal: SignalReference; readonly limit: Amount }
  | { readonly kind: "equals"; readonly signal: SignalReference; readonly amount: Amount }
  | { readonly kind: "one-of"; readonly signal: SignalReference; readonly words: readonly string[] }
  /** Two signals lie no further apart than this; without `against` those of twins. */
  | {
    readonly kind: "within";
    readonly signal: SignalReference;
    readonly against: SignalReference | null;
    readonly apart: Difference;
  }
  /** True once `of` has been true for `length` without a break. */
  | { readonly kind: "held"; readonly of: Condition; readonly length: Micros };
