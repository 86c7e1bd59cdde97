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
  if (rule.suppressedWhile !== null) {
    checkCondition(check, rule.suppressedWhile, ["suppressed-while"]);
  }
  checkManner(check, rule);
  return check.problems;
}

/** A caution asks for no answer, and only a warning can rise. */
function checkManner(check: SignalCheck, rule: Rule): void {
  const { tag, priority, latching, againAfter, risesAfter } = rule;
  if (rule.covers.includes(tag)) {
    check.conflict(["covers"], `"${tag}" covers itself`, "leave its own tag out");
  }
  if (risesAfter !== null && priority !== "warning") {
    check.conflict(
      ["alarm-when-unanswered"],
      `${wordWithArticle(priority)} does not rise when nobody answers`,
      "only a warning does",
    );
  }
  if (priority !== "caution") return;
  if (latching) {
    check.conflict(["latching"], "a caution vanishes when it returns", "make it a warning");
  }
  if (againAfter !== null) {
    check.conflict(["re-alarm"], "a caution asks for no answer", "make it a warning");
  }
}

function wordWithArticle(priority: string): string {
  const word = priority.replace("-", " ");
  return `${/^[aeiou]/.test(word) ? "an" : "a"} ${word}`;
}
