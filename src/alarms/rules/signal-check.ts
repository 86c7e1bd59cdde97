import { RELATED_GROUPS } from "../../boat/boat-file/subject-words.ts";
import type { Place, Problem } from "../../ground/problem.ts";
import { nearestName } from "../../ground/spelling.ts";
import type { UnitCode } from "../../units/codes.ts";
import { DIMENSIONS } from "../../units/dimension.ts";
import { scaleOf } from "../../units/scale.ts";
import type { Amount, Difference, SignalReference } from "./rule-parts.ts";
import { isSameWord, kindOfSignal, sayReference } from "./signal-name.ts";

/** What is known of the boat's quantities before anything is heard. */
export interface QuantityCatalogue {
  /** Undefined: not known here, and nothing is held against it. */
  unitOf(group: string, quantity: string): UnitCode | undefined;
  /** What can be heard of a quantity, in its unit, both ends included; infinite where not known. */
  reachOf?(group: string, quantity: string): { readonly least: number; readonly most: number };
  /** The words that a quantity can read; undefined for numbers, and where not known. */
  wordsOf?(group: string, quantity: string): readonly string[] | undefined;
  /** The quantities of a group; empty where the group is not known. */
  quantitiesOf(group: string): readonly string[];
}

/** Where a part of a rule stands within it. */
export type RulePath = readonly PropertyKey[];

/** Where a part of a rule, or its key, stands in the file. */
export type PlaceOf = (path: RulePath, part?: "key" | "value") => Place;

/** What an amount is held against. */
export interface Fit {
  readonly reference: SignalReference;
  /** Of the signal; undefined where not known. */
  readonly unit: UnitCode | undefined;
  readonly path: RulePath;
}

/** Holds the signals, words and amounts of one rule against what boats can send. */
export class SignalCheck {
  readonly problems: Problem[] = [];

  constructor(
    readonly each: string | null,
    readonly catalogue: QuantityCatalogue,
    readonly place: PlaceOf,
  ) {}

  /** The unit of a signal; undefined where not known, which is a problem where it should be. */
  unitOf(reference: SignalReference, path: RulePath, key = "signal"): UnitCode | undefined {
    const kind = kindOfSignal(reference, this.each);
    if (reference.of !== null && !RELATED_GROUPS.includes(reference.of)) {
      this.#unknownRelation([...path, "of"], reference.of);
      return undefined;
    }
    if (kind === null) {
      this.conflict(
        [...path, key],
        `"${reference.name}" is a signal of one subject, and this rule has none`,
        "say each, or write the whole name, such as engine/port/speed",
      );
      return undefined;
    }
    const unit = this.catalogue.unitOf(kind.group, kind.quantity);
    const known = this.catalogue.quantitiesOf(kind.group);
    if (unit === undefined && known.length > 0) {
      this.unknownName([...path, key], kind.quantity, `the group ${kind.group}`, known);
    }
    return unit;
  }

  words(reference: SignalReference, words: readonly string[], path: RulePath): void {
    this.unitOf(reference, path);
    const kind = kindOfSignal(reference, this.each);
    const known = kind === null ? undefined : this.catalogue.wordsOf?.(kind.group, kind.quantity);
    if (known === undefined) return;
    for (const word of words) {
      if (known.some((one) => isSameWord(one, word))) continue;
      this.unknownName([...path, "one-of"], word, sayReference(reference, this.each), known);
    }
  }

  /** Complains where an amount is of another dimension than the signal. */
  fits(amount: Amount, what: string, { reference, unit, path }: Fit): void {
    if (unit === undefined || isSameDimension(amount.code, unit)) return;
    this.conflict(
      path,
      `the ${what} ${amount.written} is ${dimensionWords(amount.code)}; ` +
        `${sayReference(reference, this.each)} is ${dimensionWords(unit)}`,
      unit === ""
        ? "use reads, or one-of with words"
        : `write it as ${dimensionWords(unit)}, such as ${exampleOf(unit)}`,
    );
  }

  /** A difference must be of the signal's dimension, or a share that means something. */
  differenceFits(difference: Difference, what: string, fit: Fit): void {
    if (difference.kind !== "share") return this.fits(difference.amount, what, fit);
    if (difference.percent === 0 || fit.unit !== "Cel") return;
    this.conflict(
      fit.path,
      "a share of a temperature depends on where its scale begins",
      `write the ${what} as a difference, such as 3 K`,
    );
  }

  #unknownRelation(path: RulePath, found: string): void {
    const nearest = nearestName(found, RELATED_GROUPS);
    this.problems.push({
      kind: "wrong-value",
      place: this.place(path),
      found,
      expected: `${RELATED_GROUPS.join(" or ")}, to which a boat file relates others`,
      ...(nearest === undefined ? {} : { nearest }),
    });
  }

  conflict(path: RulePath, found: string, remedy: string): void {
    this.problems.push({ kind: "conflict", place: this.place(path), found, remedy });
  }

  unknownName(
    path: RulePath,
    found: string,
    owner: string,
    known: readonly string[],
    part: "key" | "value" = "value",
  ): void {
    const nearest = nearestName(found, known);
    this.problems.push({
      kind: "unknown-name",
      place: this.place(path, part),
      found,
      owner,
      ...(nearest === undefined ? {} : { nearest }),
    });
  }
}

/** Whether a number of one unit can be compared with a signal of the other. */
export function isSameDimension(a: UnitCode, b: UnitCode): boolean {
  if (a === "" || b === "") return a === b;
  return scaleOf(a).dimension === scaleOf(b).dimension;
}

/** "a pressure" */
export function dimensionWords(unit: UnitCode): string {
  return unit === "" ? "a word" : DIMENSIONS[scaleOf(unit).dimension].words;
}

function exampleOf(unit: Exclude<UnitCode, "">): string {
  return DIMENSIONS[scaleOf(unit).dimension].example;
}
