import { DAY, type Micros } from "../../ground/time.ts";
import type { Priority } from "../words.ts";
import type { Condition } from "./rule-parts.ts";
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
  /** Null: never suppressed. */
  readonly suppressedWhile: Condition | null;
  /** Tags that need not be raised while this one is present. */
  readonly covers: readonly string[];
  readonly onDelay: Micros;
  readonly offDelay: Micros;
  readonly priority: Priority;
  /** Stays until it is reset. */
  readonly latching: boolean;
  /** After which an answered alarm that is still present asks again; null for never. */
  readonly againAfter: Micros | null;
  /** After which an unanswered warning is an alarm; null for never. */
  readonly risesAfter: Micros | null;
  readonly longestShelving: Micros;
  readonly consequence: string;
  readonly response: { readonly aboard: string; readonly ashore: string };
}

/** What the life of an alarm is like where its rule says nothing. A day of shelving is judgement. */
export const USUAL_MANNER = {
  latching: false,
  againAfter: null,
  risesAfter: null,
  longestShelving: DAY,
} as const;
