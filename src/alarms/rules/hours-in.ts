import { hoursOfName } from "../../boat/hours-of-day.ts";
import type { Condition } from "./rule-parts.ts";
import type { Rule } from "./rule.ts";
import type { Test } from "./test.ts";

/** Names of the signals for the hours of the day that rules ask for. */
export function hoursIn(rules: readonly Rule[]): string[] {
  return rules.flatMap(({ test, watchWhile, suppressedWhile }) =>
    [...conditionsOf(test), watchWhile, suppressedWhile]
      .flatMap((condition) => condition === null ? [] : namesIn(condition))
      .filter((name) => hoursOfName(name) !== null)
  );
}

function conditionsOf(test: Test): readonly Condition[] {
  switch (test.kind) {
    case "count":
      return [test.startsOf];
    case "running-time":
      return [test.while];
    case "discrepancy":
      return [test.commanded, test.actual];
    default:
      return [];
  }
}

function namesIn(condition: Condition): readonly string[] {
  switch (condition.kind) {
    case "all":
    case "any":
      return condition.of.flatMap(namesIn);
    case "not":
    case "held":
      return namesIn(condition.of);
    default:
      return [condition.signal.name];
  }
}
