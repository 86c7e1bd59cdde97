import { expect, test } from "vitest";
import { highWater } from "../../../tests/support/high-water.ts";
import type { AlarmStateName } from "../../alarms/words.ts";
import { toldAs } from "./told-change.ts";

type Expected = readonly [
  from: AlarmStateName,
  to: AlarmStateName,
  told: ReturnType<typeof toldAs>,
];

test.each<Expected>([
  ["normal", "unacknowledged", "raised"],
  ["returned-unacknowledged", "unacknowledged", "raised"],
  ["unacknowledged", "unacknowledged", "raised"],
  ["unacknowledged", "returned-unacknowledged", "returned"],
  ["acknowledged", "normal", "returned"],
  ["unacknowledged", "latched-unacknowledged", "returned"],
  ["acknowledged", "latched-acknowledged", "returned"],
  ["unacknowledged", "acknowledged", null],
  ["returned-unacknowledged", "normal", null],
  ["latched-unacknowledged", "latched-acknowledged", null],
  ["latched-acknowledged", "normal", null],
])("from %s to %s a phone is told: %s", (from, to, told) => {
  expect(toldAs({ ...change, from, to })).toBe(told);
});

test("a caution is there without asking for an answer", () => {
  expect(toldAs({ ...change, to: "acknowledged", priority: "caution" })).toBe("raised");
  expect(toldAs({ ...change, from: "acknowledged", to: "normal", priority: "caution" }))
    .toBe("returned");
});

test("nobody is told of an alarm that is shelved or out of service", () => {
  expect(toldAs({ ...change, hold: "shelved" })).toBeNull();
  expect(toldAs({ ...change, hold: "out-of-service" })).toBeNull();
});

const change = highWater();
