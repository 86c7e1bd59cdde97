import { checkLimit } from "./check-limit.ts";
import type { Condition } from "./rule-parts.ts";
import { ENGINE_PAIR } from "./signal-name.ts";
import type { RulePath, SignalCheck } from "./signal-check.ts";

/** Holds a condition against the signals that it names. */
export function checkCondition(check: SignalCheck, condition: Condition, path: RulePath): void {
  switch (condition.kind) {
    case "all":
    case "any":
      condition.of.forEach((part, i) => checkCondition(check, part, [...path, condition.kind, i]));
      return;
    case "not":
      return checkCondition(check, condition.of, [...path, "not"]);
    case "held":
      return checkCondition(check, condition.of, path);
    case "one-of":
      return check.words(condition.signal, condition.words, path);
    case "equals": {
      const { signal: reference, amount } = condition;
      const unit = check.unitOf(reference, path);
      return check.fits(amount, "limit", { reference, unit, path: [...path, "equals"] });
    }
    case "over":
    case "under": {
      const { signal: reference, limit, kind } = condition;
      const unit = check.unitOf(reference, path);
      return checkLimit(check, limit, { reference, unit, path: [...path, kind] });
    }
    case "within": {
      const { signal: reference, against, apart } = condition;
      const unit = check.unitOf(reference, path);
      check.differenceFits(apart, "difference", { reference, unit, path: [...path, "within"] });
      if (against !== null) check.unitOf(against, path, "against");
      else if (check.each !== ENGINE_PAIR) {
        check.conflict(
          [...path, "within"],
          "within compares twins, and this rule is not about a pair",
          "say each: engine-pair, or name the other signal with against",
        );
      }
    }
  }
}
