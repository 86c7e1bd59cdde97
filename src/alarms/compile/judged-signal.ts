import type { Condition, SignalReference } from "../rules/rule-parts.ts";
import type { Test } from "../rules/test.ts";

/** The signal that stands for what a test judges. */
export function judgedSignal(test: Test): SignalReference {
  switch (test.kind) {
    case "bit-pattern":
      return test.bits[0].signal;
    case "discrepancy":
      return firstSignal(test.actual);
    case "count":
      return firstSignal(test.startsOf);
    case "running-time":
      return firstSignal(test.while);
    case "moved":
      return { name: "position/latitude", of: null };
    default:
      return test.signal;
  }
}

export function firstSignal(condition: Condition): SignalReference {
  switch (condition.kind) {
    case "all":
    case "any":
      return firstSignal(condition.of[0]);
    case "not":
    case "held":
      return firstSignal(condition.of);
    default:
      return condition.signal;
  }
}
