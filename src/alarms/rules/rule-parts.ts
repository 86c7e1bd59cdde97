import type { Micros } from "../../ground/time.ts";
import type { UnitCode } from "../../units/codes.ts";

// The parts of which tests and conditions are made, as plain data.

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

/** One number, for the boat as it is. */
export type Limit =
  | { readonly kind: "fixed"; readonly amount: Amount }
  /** `103 % of rated-speed`: a share of a number of the boat file. */
  | { readonly kind: "share-of"; readonly share: number; readonly number: string }
  /** `12.2 V per 12 V`: scales with the subject's `nominal` voltage. */
  | { readonly kind: "per-nominal"; readonly amount: Amount; readonly per: Amount };

export type Setpoint = Limit | Curve | UsualSetpoint | StartsSetpoint;

/** So far under, or over, the median of the signal's own last starts. */
export interface StartsSetpoint {
  readonly kind: "starts";
  /** How many of the last starts count. */
  readonly starts: number;
  readonly apart: Difference;
  /** How many starts in a row must lie beyond it. */
  readonly inARow: number;
}

/** A share of what the signal itself usually reads. */
export interface UsualSetpoint {
  readonly kind: "usual";
  /** How much of the time in which the rule watches counts. */
  readonly window: Micros;
  readonly percent: number;
  /** Told apart by bands of this signal; null for one band. */
  readonly by: { readonly signal: SignalReference; readonly band: Amount } | null;
}

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
  | { readonly kind: "over" | "under"; readonly signal: SignalReference; readonly limit: Limit }
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
