import { describe, expect, test } from "vitest";
import type { AlarmStatus } from "../../../alarms/change.ts";
import { DAY, HOUR } from "../../../ground/time.ts";
import { choicesFor } from "./answer-buttons.ts";
import { readAnswerForm } from "./answer-form.ts";

const FORM = { tag: "low-oil", subject: "port", occurrence: "3" };
const RAISING = { tag: "low-oil", subject: "port", occurrence: 3, who: "Kim" };

describe("the form of an answer", () => {
  test.each([
    ["acknowledge", { kind: "acknowledge" }],
    ["have-it", { kind: "acknowledge", why: "I have it" }],
    ["shelve", { kind: "shelve", length: HOUR }],
    ["unshelve", { kind: "unshelve" }],
    ["reset", { kind: "reset" }],
    ["out-of-service", { kind: "out-of-service", length: DAY }],
    ["return-to-service", { kind: "return-to-service" }],
  ])("%s becomes that answer", (what, answer) => {
    expect(readAnswerForm({ ...FORM, do: what }, "Kim")).toEqual({ ...RAISING, ...answer });
  });

  test.each([
    {},
    { ...FORM, do: "hush" },
    { ...FORM, occurrence: "-1" },
    { ...FORM, tag: "" },
    { ...FORM, subject: "x".repeat(201) },
    { ...FORM, tag: new File([], "tag") },
  ])("%j is none", (form) => expect(readAnswerForm(form, "Kim")).toBeUndefined());

  test("cannot say who answers, nor for how long", () => {
    const form = { ...FORM, do: "shelve", who: "Robin", length: "1" };
    expect(readAnswerForm(form, "Kim")).toMatchObject({ who: "Kim", length: HOUR });
  });
});

describe("the buttons of an alarm", () => {
  function first(more: Partial<AlarmStatus>): readonly string[] {
    return choicesFor(alarm(more), true).first;
  }

  function alarm(more: Partial<AlarmStatus>): AlarmStatus {
    return {
      ...{ tag: "low-oil", subject: "port", title: "Low oil", state: "acknowledged", hold: "none" },
      ...{ occurrence: 3, priority: "alarm", signal: "", value: null, unit: "1", setpoint: null },
      ...{ raised: 0, changed: 0, message: "", consequence: "" },
      response: { aboard: "", ashore: "" },
      ...more,
    };
  }

  test("offer what its state asks for", () => {
    expect(first({ state: "unacknowledged" })).toEqual(["have-it", "acknowledge"]);
    expect(first({ state: "returned-unacknowledged" })).toEqual(["have-it", "acknowledge"]);
    expect(first({ state: "acknowledged" })).toEqual([]);
    expect(first({ state: "latched-acknowledged" })).toEqual(["reset"]);
    expect(first({ priority: "caution" })).toEqual([]);
  });

  test("offer nothing that is always refused", () => {
    for (const hold of ["none", "shelved"] as const) {
      const status = alarm({ state: "unacknowledged", hold });
      expect(choicesFor(status, true).more).toContain("out-of-service");
      expect(choicesFor(status, false).more).toEqual([]);
    }
  });

  test("offer the end of what a person did", () => {
    expect(first({ state: "unacknowledged", hold: "shelved" })).toEqual(["unshelve"]);
    expect(first({ state: "normal", hold: "out-of-service" })).toEqual(["return-to-service"]);
  });
});
