import type { Place, Problem } from "../../ground/problem.ts";
import { checkCondition } from "./check-condition.ts";
import { checkTest } from "./check-test.ts";
import type { Rule } from "./rule.ts";
import { type QuantityCatalogue, type RulePath, SignalCheck } from "./signal-check.ts";

/**
 * What is wrong between a rule and the signals that it names: a signal that no boat has, a limit
 * in another unit.
 * @param place where a part of the rule stands, by its path within the rule
 */
export function ruleProblems(
  rule: Rule,
  catalogue: QuantityCatalogue,
  place: (path: RulePath) => Place,
): Problem[] {
  const check = new SignalCheck(rule.each, catalogue, place);
  checkTest(check, rule.test);
  if (rule.watchWhile !== null) checkCondition(check, rule.watchWhile, ["watch-while"]);
  return check.problems;
}
