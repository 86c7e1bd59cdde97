import type { Place, Problem } from "../../ground/problem.ts";
import { nearestName } from "../../ground/spelling.ts";
import type { UnitCode } from "../../units/codes.ts";
import { DIMENSIONS } from "../../units/dimension.ts";
import { scaleOf } from "../../units/scale.ts";
import type { Amount, Condition, Rule, SignalReference } from "./rule.ts";
import { isSameWord, kindOfSignal, sayReference } from "./signal-name.ts";

/** What is known of the boat's quantities before anything is heard. */
export interface QuantityCatalogue {
  /** Undefined: not known here, and nothing is held against it. */
  unitOf(group: string, quantity: string): UnitCode | undefined;
  /** The words that a quantity can read; undefined for numbers, and where not known. */
  wordsOf?(group: string, quantity: string): readonly string[] | undefined;
  /** The quantities of a group; empty where the group is not known. */
  quantitiesOf(group: string): readonly string[];
}

/** Numbers of the boat file that a setpoint can be a share of, with their units. */
export const BOAT_NUMBERS: Readonly<Record<string, UnitCode>> = {
  "rated-speed": "1/min",
  "nominal": "V",
};

type Path = readonly PropertyKey[];

/**
 * What is wrong between a rule and the signals that it names: a signal that no boat has, a limit
 * in another unit.
 * @param place where a part of the rule stands, by its path within the rule
 */
export function ruleProblems(
  rule: Rule,
  catalogue: QuantityCatalogue,
  place: (path: Path) => Place,
): Problem[] {
  const problems: Problem[] = [];

  /** The unit of a signal; null for words; undefined where not known. */
  function unitOf(reference: SignalReference, path: Path): UnitCode | undefined {
    const kind = kindOfSignal(reference, rule.each);
    if (kind === null) {
      problems.push({
        kind: "conflict",
        place: place([...path, "signal"]),
        found: `"${reference.name}" is a signal of one subject, and this rule has none`,
        remedy: "say each, or write the whole name, such as engine/port/speed",
      });
      return undefined;
    }
    const unit = catalogue.unitOf(kind.group, kind.quantity);
    const known = catalogue.quantitiesOf(kind.group);
    if (unit === undefined && known.length > 0) {
      const nearest = nearestName(kind.quantity, known);
      problems.push({
        kind: "unknown-name",
        place: place([...path, "signal"]),
        found: kind.quantity,
        owner: `the group ${kind.group}`,
        ...(nearest === undefined ? {} : { nearest }),
      });
    }
    return unit;
  }

  function checkWords(reference: SignalReference, words: readonly string[], path: Path): void {
    unitOf(reference, path);
    const kind = kindOfSignal(reference, rule.each);
    const known = kind === null ? undefined : catalogue.wordsOf?.(kind.group, kind.quantity);
    if (known === undefined) return;
    words.forEach((word) => {
      if (known.some((one) => isSameWord(one, word))) return;
      const nearest = nearestName(word, known);
      problems.push({
        kind: "unknown-name",
        place: place([...path, "one-of"]),
        found: word,
        owner: sayReference(reference, rule.each),
        ...(nearest === undefined ? {} : { nearest }),
      });
    });
  }

  function fits(amount: Amount, unit: UnitCode | undefined, what: string, at: {
    reference: SignalReference;
    path: Path;
  }): void {
    if (unit === undefined || isSameDimension(amount.code, unit)) return;
    problems.push({
      kind: "conflict",
      place: place(at.path),
      found: `the ${what} ${amount.written} is ${dimensionWords(amount.code)}; ` +
        `${sayReference(at.reference, rule.each)} is ${dimensionWords(unit)}`,
      remedy: unit === ""
        ? "use reads, or one-of with words"
        : `write it as ${dimensionWords(unit)}, such as ${exampleOf(unit)}`,
    });
  }

  function checkTest(): void {
    const { test } = rule;
    const path = [test.kind];
    if (test.kind === "bit-pattern") {
      for (const bit of test.bits) unitOf(bit.signal, path);
      return;
    }
    if (test.kind === "reads") return checkWords(test.signal, test.oneOf, path);
    const unit = unitOf(test.signal, path);
    if (test.kind !== "low" && test.kind !== "high") return;
    const { setpoint, deadband, signal: reference } = test;
    const at = { reference, path: [...path, "setpoint"] };
    if (setpoint.kind === "fixed" || setpoint.kind === "per-nominal") {
      fits(setpoint.amount, unit, "limit", at);
    } else if (setpoint.kind === "share-of") {
      checkShare(setpoint.number, unit, at);
    } else {
      const alongUnit = unitOf(setpoint.along, at.path);
      for (const point of setpoint.points) {
        const pointPath = [...at.path, "curve", point.at.written];
        fits(point.at, alongUnit, "place", { reference: setpoint.along, path: pointPath });
        fits(point.limit, unit, "limit", { reference, path: pointPath });
      }
    }
    if (deadband.kind === "share" && deadband.percent > 0 && unit === "Cel") {
      problems.push({
        kind: "conflict",
        place: place([...path, "deadband"]),
        found: "a share of a temperature depends on where its scale begins",
        remedy: "write the deadband as a difference, such as 3 K",
      });
    }
    if (deadband.kind !== "share") {
      fits(deadband.amount, unit, "deadband", { reference, path: [...path, "deadband"] });
    }
  }

  function checkShare(
    number: string,
    unit: UnitCode | undefined,
    at: { reference: SignalReference; path: Path },
  ): void {
    const numberUnit = BOAT_NUMBERS[number];
    if (numberUnit === undefined) {
      const nearest = nearestName(number, Object.keys(BOAT_NUMBERS));
      problems.push({
        kind: "unknown-name",
        place: place(at.path),
        found: number,
        owner: "a setpoint",
        ...(nearest === undefined ? {} : { nearest }),
      });
    } else {
      fits({ value: 0, code: numberUnit, written: number }, unit, "number", at);
    }
  }

  function checkCondition(condition: Condition, path: Path): void {
    switch (condition.kind) {
      case "all":
      case "any":
        condition.of.forEach((part, i) => checkCondition(part, [...path, condition.kind, i]));
        return;
      case "not":
        return checkCondition(condition.of, [...path, "not"]);
      case "held":
        return checkCondition(condition.of, path);
      case "one-of":
        return checkWords(condition.signal, condition.words, path);
      case "equals":
      case "over":
      case "under": {
        const amount = condition.kind === "equals" ? condition.amount : condition.limit;
        const unit = unitOf(condition.signal, path);
        fits(amount, unit, "limit", {
          reference: condition.signal,
          path: [...path, condition.kind],
        });
      }
    }
  }

  checkTest();
  if (rule.watchWhile !== null) checkCondition(rule.watchWhile, ["watch-while"]);
  return problems;
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
