import { describe, expect, test } from "vitest";
import type { AnswerAction, AnswerClaims } from "../../../alarms/answer-token.ts";
import type { AlarmStatus } from "../../../alarms/change.ts";
import type { AlarmStateName, Hold } from "../../../alarms/words.ts";
import { whyMoot } from "./link-words.ts";

function judged(
  action: AnswerAction,
  state: AlarmStateName,
  { occurrence = 3, hold = "none" }: { occurrence?: number; hold?: Hold } = {},
): string | undefined {
  const claims: AnswerClaims = {
    ...{ boat: "dora", tag: "low-oil", subject: "port", occurrence: 3, action },
    ...{ person: "Ellen", expires: 1 },
  };
  const status: AlarmStatus = {
    ...{ tag: "low-oil", subject: "port", title: "Low oil", state, hold, occurrence },
    ...{ priority: "alarm", signal: "", value: null, unit: "1", setpoint: null },
    ...{ raised: 0, changed: 0, message: "", consequence: "" },
    response: { aboard: "", ashore: "" },
  };
  return whyMoot(claims, status);
}

describe("a link", () => {
  test.each(["unacknowledged", "returned-unacknowledged", "latched-unacknowledged"] as const)(
    "has something to do while its alarm is %s",
    (state) => expect(judged("have-it", state)).toBeUndefined(),
  );

  test("to shelve has something to do also after somebody has answered", () => {
    expect(judged("shelve", "acknowledged")).toBeUndefined();
  });

  test.each(
    [
      ["acknowledge", "acknowledged", /answered already/],
      ["have-it", "normal", /over and was answered/],
      ["shelve", "normal", /It is over/],
    ] as const,
  )("to %s has nothing to do when it is %s", (action, state, words) => {
    expect(judged(action, state)).toMatch(words);
  });

  test("does nothing to a later time", () => {
    expect(judged("have-it", "unacknowledged", { occurrence: 4 })).toMatch(/risen again since/);
    expect(judged("have-it", "normal", { occurrence: 4 })).toMatch(/earlier time, and it is over/);
  });

  test("does nothing to what is shelved or out of service", () => {
    expect(judged("have-it", "unacknowledged", { hold: "shelved" })).toMatch(/shelved already/);
    expect(judged("shelve", "unacknowledged", { hold: "out-of-service" })).toMatch(
      /out of service/,
    );
  });

  test("about which nothing is known is left to the boat", () => {
    const claims: AnswerClaims = {
      ...{ boat: "dora", tag: "low-oil", subject: "port", occurrence: 3, action: "have-it" },
      ...{ person: "Ellen", expires: 1 },
    };
    expect(whyMoot(claims, undefined)).toBeUndefined();
  });
});
