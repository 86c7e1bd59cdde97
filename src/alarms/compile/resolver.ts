import type { Boat } from "../../boat/boat.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import type { UnitCode } from "../../units/codes.ts";
import { conversion, scaleOf } from "../../units/scale.ts";
import { dimensionWords, isSameDimension } from "../rules/signal-check.ts";
import type { Amount, Difference, Limit, SignalReference } from "../rules/rule-parts.ts";
import {
  groupOfEach,
  isAbsolute,
  isOn,
  isSameWord,
  isSwitchWord,
  placeOfName,
} from "../rules/signal-name.ts";
import type { Unfolded } from "./unfold.ts";

/** Which of twins. */
export type Twin = 0 | 1;

/** A difference: `amount` and `share` of what it is held against, one of them 0. */
export interface Apart {
  readonly amount: number;
  readonly share: number;
}

/**
 * Ties the names and amounts of one rule and subject to the signal table, and collects why it
 * cannot be judged.
 */
export class Resolver {
  /** Names of signals that nothing sends yet. */
  readonly missing: string[] = [];
  /** Why the rule can never be judged for this subject; empty while it can. */
  reason = "";

  constructor(
    readonly unfolded: Unfolded,
    readonly table: SignalTable,
    readonly boat: Boat,
  ) {}

  /** Whether a plain name means a signal of both twins. */
  isOfBoth({ name, of }: SignalReference): boolean {
    return this.unfolded.twins !== null && of === null && !isAbsolute(name);
  }

  /** The whole name of a signal; empty where a relation leads nowhere. */
  nameOf({ name, of }: SignalReference, twin: Twin = 0): string {
    const { rule, subject, described, twins } = this.unfolded;
    if (of === null) {
      if (isAbsolute(name) || rule.each === null) return name;
      return `${groupOfEach(rule.each)}/${twins === null ? subject : twins[twin]}/${name}`;
    }
    const related = described?.relations[of];
    if (related !== undefined) return `${of}/${related}/${name}`;
    this.refuse(`the boat file relates no ${of} to ${rule.each} ${subject}`);
    return "";
  }

  /** The number of a signal, or -1 while nothing sends it. */
  signal(reference: SignalReference, twin: Twin = 0): number {
    const name = this.nameOf(reference, twin);
    if (name === "") return -1;
    const signal = this.table.find(name);
    if (signal < 0) this.missing.push(name);
    return signal;
  }

  /** An amount in the signal's own unit; NaN while the signal or the amount does not fit. */
  amount(amount: Amount, signal: number): number {
    return this.#converted(amount, signal, (value, { factor, zero }) => (value - zero) * factor);
  }

  /** A limit of the signal, in its unit. */
  limit(limit: Limit, signal: number, reference: SignalReference, twin: Twin = 0): number {
    switch (limit.kind) {
      case "fixed":
        return this.amount(limit.amount, signal);
      case "share-of":
        return limit.share * this.number(limit.number, reference, twin);
      case "per-nominal":
        return this.amount(limit.amount, signal) *
          (this.number("nominal", reference, twin) / limit.per.value);
    }
  }

  difference(amount: Amount, signal: number): number {
    return this.#converted(amount, signal, (value, { factor }) => value * factor);
  }

  /** Differences in the signal's values up to this are noise of binary fractions. */
  hair(signal: number): number {
    return signal < 0 ? 0 : 10 ** -(this.table.facts[signal].decimals + 3);
  }

  /** How far apart two values of the signal are, in its unit, and as a share. */
  apart(difference: Difference, signal: number, reference: SignalReference): Apart {
    switch (difference.kind) {
      case "fixed":
        return { amount: this.difference(difference.amount, signal), share: 0 };
      case "per-nominal": {
        const scale = this.number("nominal", reference) / difference.per.value;
        return { amount: this.difference(difference.amount, signal) * scale, share: 0 };
      }
      case "share":
        return signal >= 0 && this.table.facts[signal].unit === "%"
          ? { amount: difference.percent, share: 0 }
          : { amount: 0, share: difference.percent / 100 };
    }
  }

  /** A number of the boat file about the signal's subject; NaN where it gives none. */
  number(name: string, reference: SignalReference, twin: Twin = 0): number {
    const { group, subject } = placeOfName(this.nameOf(reference, twin));
    const given = WRITTEN_AS[name] ?? name;
    const number = this.boat.subjects
      .find((one) => one.group === group && one.name === subject)?.numbers[given];
    if (number !== undefined) return number;
    this.refuse(`the boat file gives no ${given} for ${group} ${subject}`);
    return NaN;
  }

  /** Codes of the words that a signal can read; bits take on and off. */
  codes(words: readonly string[], signal: number): number[] {
    if (signal < 0) return [];
    const { name, words: known } = this.table.facts[signal];
    return words.flatMap((word) => {
      if (known === null && isSwitchWord(word)) return [isOn(word) ? 1 : 0];
      const codes = [...known ?? []].filter(([, one]) => isSameWord(one, word));
      if (codes.length === 0) this.refuse(`${name} never reads "${word}"`);
      return codes.map(([code]) => code);
    });
  }

  refuse(reason: string): void {
    if (this.reason === "") this.reason = reason;
  }

  #converted(
    amount: Amount,
    signal: number,
    change: (value: number, line: { factor: number; zero: number }) => number,
  ): number {
    if (signal < 0) return NaN;
    const { name, unit } = this.table.facts[signal];
    if (unit === "" || amount.code === "" || !isSameDimension(amount.code, unit)) {
      this.refuse(mismatch(amount, name, unit));
      return NaN;
    }
    return change(amount.value, conversion(scaleOf(amount.code), scaleOf(unit)));
  }
}

/** Numbers that are worked out of what the boat file gives: ampere-hours in one hour are amperes. */
const WRITTEN_AS: Readonly<Record<string, string>> = { "hourly-capacity": "capacity" };

function mismatch(amount: Amount, name: string, unit: UnitCode): string {
  return `the limit ${amount.written} is ${dimensionWords(amount.code)}; ` +
    `${name} is ${dimensionWords(unit)}`;
}
