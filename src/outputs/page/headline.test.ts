import { describe, expect, test } from "vitest";
import type { AlarmStateName, Hold, Priority } from "../../alarms/words.ts";
import type { AlarmLine, UnjudgedRule } from "./boat-view.ts";
import { headline } from "./headline.ts";

const unjudged = (count: number): UnjudgedRule[] =>
  Array.from({ length: count }, () => ({ title: "Too hot", about: "", reason: "" }));

function alarm(priority: Priority, state: AlarmStateName, hold: Hold = "none"): AlarmLine {
  return {
    about: "",
    canBeHeld: true,
    status: {
      tag: "tag",
      subject: "boat",
      title: "Title",
      state,
      hold,
      occurrence: 1,
      priority,
      signal: "",
      value: null,
      unit: "",
      setpoint: null,
      raised: 1,
      changed: 1,
      message: "",
      consequence: "",
      response: { aboard: "", ashore: "" },
    },
  };
}

describe("the headline", () => {
  test("counts what is on watch and what cannot be judged", () => {
    expect(headline([], { onWatch: 34, unjudged: unjudged(4) })).toBe(
      "No alarms. 34 rules are on watch; 4 cannot be judged.",
    );
    expect(headline([], { onWatch: 1, unjudged: unjudged(1) })).toBe(
      "No alarms. 1 rule is on watch; 1 cannot be judged.",
    );
  });

  test("says no more than that where every rule can be judged", () => {
    expect(headline([], { onWatch: 38, unjudged: [] })).toBe("No alarms. 38 rules are on watch.");
  });

  test("says nothing of what it cannot know", () => {
    expect(headline([], { onWatch: 26 })).toBe(
      "No alarms. 26 rules; her own page says which cannot be judged.",
    );
    expect(headline([], { onWatch: 0 })).toBe("No alarms. Nothing is known of her rules.");
  });

  test("does not take the absence of rules for the absence of trouble", () => {
    expect(headline([], { onWatch: 0, unjudged: [] })).toBe(
      "No alarms. No rules are given, so nothing is judged.",
    );
  });

  test("counts alarms by priority and says how many wait for an answer", () => {
    const watch = { onWatch: 2, unjudged: [] };
    expect(headline([alarm("alarm", "unacknowledged")], watch)).toMatch(
      /^1 alarm, not yet answered\./,
    );
    expect(
      headline([
        alarm("caution", "acknowledged"),
        alarm("warning", "returned-unacknowledged"),
        alarm("alarm", "acknowledged"),
        alarm("alarm", "unacknowledged"),
      ], watch),
    ).toMatch(/^2 alarms, 1 warning, 1 caution; 2 not yet answered\./);
    expect(headline([alarm("alarm", "acknowledged"), alarm("warning", "acknowledged")], watch))
      .toMatch(/^1 alarm, 1 warning; all answered\./);
    expect(headline([alarm("emergency-alarm", "acknowledged")], watch)).toMatch(
      /^1 emergency alarm, answered\./,
    );
  });

  test("says what a person has put aside, which is neither answered nor an alarm that is told", () => {
    const watch = { onWatch: 2, unjudged: [] };
    const shelved = alarm("warning", "unacknowledged", "shelved");
    expect(headline([shelved, alarm("alarm", "normal", "out-of-service")], watch)).toBe(
      "No alarms; 1 shelved, 1 out of service. 2 rules are on watch.",
    );
    expect(headline([alarm("alarm", "unacknowledged"), shelved], watch)).toMatch(
      /^1 alarm, not yet answered; 1 shelved\./,
    );
  });

  test("does not call a caution an alarm", () => {
    expect(headline([alarm("caution", "acknowledged")], { onWatch: 2, unjudged: [] })).toBe(
      "No alarms, 1 caution. 2 rules are on watch.",
    );
  });
});
