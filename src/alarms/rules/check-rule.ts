import { subjectWordsOf } from "../../boat/boat-file/subject-words.ts";
import type { Problem } from "../../ground/problem.ts";
import { checkCondition } from "./check-condition.ts";
import { checkTest } from "./check-test.ts";
import type { Rule } from "./rule.ts";
import { groupOfEach } from "./signal-name.ts";
import { type PlaceOf, type QuantityCatalogue, SignalCheck } from "./signal-check.ts";

/**
 * What is wrong between a rule and the signals that it names: a signal that no boat has, a limit
 * in another unit.
 * @param place where a part of the rule stands, by its path within the rule
 */
export function ruleProblems(
  rule: Rule,
  catalogue: QuantityCatalogue,
  place: PlaceOf,
): Problem[] {
  const check = new SignalCheck(rule.each, catalogue, place);
  checkWhere(check, rule);
  checkTest(check, rule.test);
  if (rule.watchWhile !== null) checkCondition(check, rule.watchWhile, ["watch-while"]);
  if (rule.suppressedWhile !== null) {
    checkCondition(check, rule.suppressedWhile, ["suppressed-while"]);
  }
  checkManner(check, rule);
  return check.problems;
}

/** What no boat file can say would leave the rule without any subject. */
function checkWhere(check: SignalCheck, { each, where, only }: Rule): void {
  if (each === null) {
    for (const key of ["where", "only"] as const) {
      const isGiven = key === "where" ? Object.keys(where).length > 0 : only !== null;
      if (!isGiven) continue;
      check.conflict([key], `"${key}" chooses among subjects, and this rule has none`, "say each");
    }
    return;
  }
  const group = groupOfEach(each);
  const words = subjectWordsOf(group);
  for (const [key, word] of Object.entries(where)) {
    const path = ["where", key];
    if (!Object.hasOwn(words, key)) {
      check.unknownName(path, key, `"where" of the group ${group}`, Object.keys(words), "key");
    } else if (!words[key].includes(word)) {
      check.unknownName(path, word, `${group} ${key}`, words[key]);
    }
  }
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
