import { describe, expect, test } from "vitest";
import { type Micros, MINUTE, parseIsoTime } from "../ground/time.ts";
import { hoursOfName, nameOfHours } from "./hours-of-day.ts";
import { SignalTable } from "./signal-table.ts";
import { TimeOfDay } from "./time-of-day.ts";

const NIGHT = nameOfHours({ from: 22 * 60, to: 7 * 60 });

function at(text: string): Micros {
  return parseIsoTime(text) ?? NaN;
}

/** `ISO time: value` of each change from one time to another; the wall runs `ahead` of steady time. */
function course(zone: string, from: string, to: string, name = NIGHT, ahead = 0): string[] {
  const table = new SignalTable();
  const time = new TimeOfDay(table, zone, (steady) => steady + ahead);
  time.begin([name, "boat/condition"]);
  const signal = table.find(name);
  const changes: string[] = [];
  const look = (now: Micros) => {
    if (table.changedAt[signal] !== now) return;
    changes.push(
      `${new Date((now + ahead) / 1000).toISOString().slice(0, 16)} ${table.values[signal]}`,
    );
  };
  time.follow(at(from) - ahead);
  look(at(from) - ahead);
  while (time.nextDue <= at(to) - ahead) {
    const due = time.nextDue;
    time.runTimer();
    look(due);
  }
  return changes;
}

describe("hours of the day", () => {
  test("begin and end at their very minute, over midnight too", () => {
    expect(course("UTC", "2026-06-14T12:00:30Z", "2026-06-16T12:00:00Z")).toEqual([
      ...["2026-06-14T12:00 0", "2026-06-14T22:00 1", "2026-06-15T07:00 0"],
      ...["2026-06-15T22:00 1", "2026-06-16T07:00 0"],
    ]);
  });

  test("are those of the boat's own zone", () => {
    expect(course("Europe/Lisbon", "2026-06-14T12:00:00Z", "2026-06-15T12:00:00Z")).toEqual([
      ...["2026-06-14T12:00 0", "2026-06-14T21:00 1", "2026-06-15T06:00 0"],
    ]);
  });

  test("keep to the clock in the nights in which clocks are changed", () => {
    // Forward at 01:00 UTC on 29 March, back at 01:00 UTC on 25 October (from memory).
    expect(course("Europe/Berlin", "2026-03-28T22:00:00Z", "2026-03-29T12:00:00Z"))
      .toEqual(["2026-03-28T22:00 1", "2026-03-29T05:00 0"]);
    expect(course("Europe/Berlin", "2026-10-24T21:00:00Z", "2026-10-25T12:00:00Z"))
      .toEqual(["2026-10-24T21:00 1", "2026-10-25T06:00 0"]);
  });

  test("are not known while the clock is not set, and at once when it is", () => {
    const table = new SignalTable();
    let ahead = 0;
    const time = new TimeOfDay(table, "UTC", (steady) => steady + ahead);
    time.begin([NIGHT]);
    time.follow(10 * MINUTE);
    const signal = table.find(NIGHT);
    expect([table.values[signal], time.nextDue]).toEqual([NaN, Infinity]);
    ahead = at("2026-06-14T23:00:00Z");
    time.follow(10 * MINUTE);
    expect(table.values[signal]).toBe(1);
    expect(time.nextDue).toBe(at("2026-06-15T07:00:00Z") - ahead);
  });

  test("have a name that says them", () => {
    expect(NIGHT).toBe("boat/from-22-00-to-07-00");
    expect(hoursOfName(NIGHT)).toEqual({ from: 1320, to: 420 });
    expect(hoursOfName("boat/under-way")).toBeNull();
  });
});
