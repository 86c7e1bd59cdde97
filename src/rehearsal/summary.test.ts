import { describe, expect, test } from "vitest";
import { highWater } from "../../tests/support/high-water.ts";
import type { AlarmChange } from "../alarms/change.ts";
import type { AlarmStateName } from "../alarms/words.ts";
import { SECOND } from "../ground/time.ts";
import { summarise } from "./summary.ts";

function change(seconds: number, from: AlarmStateName, to: AlarmStateName): AlarmChange {
  const about = { tag: "oil-pressure-low", subject: "port", priority: "alarm" } as const;
  return highWater({ ...about, from, to, time: seconds * SECOND });
}

describe("what a rule did in a run", () => {
  test("counts raisings, and the time until the condition went, answered or not", () => {
    const changes = [
      change(10, "normal", "unacknowledged"),
      change(15, "unacknowledged", "acknowledged"),
      change(30, "acknowledged", "normal"),
      change(50, "normal", "unacknowledged"),
      change(55, "unacknowledged", "returned-unacknowledged"),
      change(60, "returned-unacknowledged", "unacknowledged"),
      change(62, "unacknowledged", "returned-unacknowledged"),
      change(90, "returned-unacknowledged", "normal"),
    ];
    expect(summarise({ stood: [], changes, ends: 100 * SECOND })).toEqual([
      { tag: "oil-pressure-low", subject: "port", raised: 3, stood: false, inAlarm: 27 * SECOND },
    ]);
  });

  test("counts what still stands at the end", () => {
    const changes = [change(10, "normal", "unacknowledged")];
    const ends = 25 * SECOND;
    expect(summarise({ stood: [], changes, ends })[0].inAlarm).toBe(15 * SECOND);
    expect(summarise({ stood: [], changes: [], ends })).toEqual([]);
  });

  test("counts from the start what the run before has left standing, and as no raising", () => {
    const stood = [change(0, "acknowledged", "acknowledged")];
    const changes = [change(9, "acknowledged", "normal"), change(20, "normal", "unacknowledged")];
    const ends = 25 * SECOND;
    expect(summarise({ stood, changes, ends }))
      .toMatchObject([{ raised: 1, stood: true, inAlarm: 14 * SECOND }]);
    expect(summarise({ stood, changes: [], ends }))
      .toMatchObject([{ raised: 0, stood: true, inAlarm: ends }]);
  });
});
