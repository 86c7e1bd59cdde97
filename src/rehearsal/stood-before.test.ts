import { describe, expect, test } from "vitest";
import { type AlarmRecord, alarmRecordSchema } from "../alarms/alarm-record.ts";
import { twoSendersRule } from "../alarms/compile/two-senders.ts";
import { stoodBefore } from "./stood-before.ts";

const rule = {
  ...twoSendersRule("engine/port/speed"),
  tag: "oil-low",
  priority: "warning",
} as const;

function record(parts: Partial<AlarmRecord>): AlarmRecord {
  const told = {
    raised: 1,
    changed: 2,
    signal: "engine/port/oil-pressure",
    value: 80_000,
    unit: "Pa",
    setpoint: 120_000,
    message: "it was low",
  };
  const plain = { tag: "oil-low", subject: "port", state: "acknowledged", occurrence: 3 };
  return { ...alarmRecordSchema.parse({ ...plain, left: null, told }), ...parts };
}

describe("what the run before has left standing", () => {
  test("is said with what it was about, as of the run's start", () => {
    expect(stoodBefore([record({})], [rule], 5)).toMatchObject([{
      occurrence: 3,
      from: "acknowledged",
      to: "acknowledged",
      priority: "warning",
      value: 80_000,
      time: 5,
      why: "It was low.",
    }]);
  });

  test("has the priority to which it has risen, and a built-in one is a caution", () => {
    const records = [record({ risen: true }), record({ tag: "not-watched" })];
    expect(stoodBefore(records, [rule], 5).map(({ priority }) => priority))
      .toEqual(["alarm", "caution"]);
  });

  test("is not what is over, what no rule is about any more, or what is only tried", () => {
    const records = [
      record({ state: "returned-unacknowledged" }),
      record({ tag: "gone" }),
      record({ tag: "oil-low:try:0:0" }),
    ];
    expect(stoodBefore(records, [rule], 5)).toEqual([]);
  });
});
