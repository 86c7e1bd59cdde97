import type { Condition, SignalReference } from "./rule-parts.ts";
import type { Rule } from "./rule.ts";
import type { Test } from "./test.ts";

/** Every signal without which a rule cannot be judged. */
export function signalsNeeded({ test, watchWhile }: Rule): SignalReference[] {
  const watched = watchWhile === null ? [] : signalsOf(watchWhile);
  return [...signalsOfTest(test), ...watched];
}

function signalsOfTest(test: Test): readonly SignalReference[] {
  switch (test.kind) {
    case "bit-pattern":
      return test.bits.map(({ signal }) => signal);
    case "discrepancy":
      return [...signalsOf(test.commanded), ...signalsOf(test.actual)];
    case "count":
      return signalsOf(test.startsOf);
    case "running-time":
      return signalsOf(test.while);
    case "moved":
      return ["latitude", "longitude"].map((name) => ({ name: `position/${name}`, of: null }));
    case "deviation":
      return test.against === null ? [test.signal] : [test.signal, test.against];
    case "low":
    case "high":
      return test.setpoint.kind === "curve" ? [test.signal, test.setpoint.along] : [test.signal];
    default:
      return [test.signal];
  }
}

function signalsOf(condition: Condition): readonly SignalReference[] {
  switch (condition.kind) {
    case "all":
      return condition.of.flatMap(signalsOf);
    // One of several may be enough.
    case "any":
      return [];
    case "not":
    case "held":
      return signalsOf(condition.of);
    case "within":
      return condition.against === null
        ? [condition.signal]
        : [condition.signal, condition.against];
    default:
      return [condition.signal];
  }
}
