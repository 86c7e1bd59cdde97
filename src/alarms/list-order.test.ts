import { describe, expect, test } from "vitest";
import type { AlarmStatus } from "./change.ts";
import { listOrder } from "./list-order.ts";
import type { AlarmStateName, Priority } from "./words.ts";

function status(priority: Priority, state: AlarmStateName, raised = 0): AlarmStatus {
  return {
    tag: `${priority}-${state}`,
    subject: "port",
    title: "",
    state,
    hold: "none",
    occurrence: 1,
    priority,
    signal: "",
    value: null,
    unit: "",
    setpoint: null,
    raised,
    changed: raised,
    message: "",
    consequence: "",
    response: { aboard: "", ashore: "" },
  };
}

describe("the order of a list of alarms", () => {
  test("is that of ships' displays, emergency alarms first", () => {
    // The order of a type-approved ship radar's manual, §20.4: alarms and warnings that want an
    // answer, then those that are over, then those answered, then cautions.
    const expected = [
      status("emergency-alarm", "unacknowledged"),
      status("emergency-alarm", "acknowledged"),
      status("alarm", "unacknowledged"),
      status("warning", "unacknowledged"),
      status("alarm", "returned-unacknowledged"),
      status("warning", "returned-unacknowledged"),
      status("alarm", "acknowledged"),
      status("warning", "acknowledged"),
      status("caution", "acknowledged"),
      status("alarm", "normal"),
      status("caution", "normal"),
    ];
    const shuffled = [3, 7, 0, 10, 5, 2, 9, 1, 8, 4, 6].map((i) => expected[i]);
    expect(shuffled.sort(listOrder).map(({ tag }) => tag)).toEqual(expected.map(({ tag }) => tag));
  });

  test("puts the newest first among equals", () => {
    const [older, newer] = [1, 2].map((raised) => status("alarm", "unacknowledged", raised));
    expect([older, newer].sort(listOrder)).toEqual([newer, older]);
  });
});
