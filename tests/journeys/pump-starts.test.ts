import { describe, expect, test } from "vitest";
import { HandMadeBoat } from "../support/hand-made-boat.ts";
import { packRules } from "../support/pack-rehearsal.ts";

const PUMP = "bilge/aft/pump";
const HOUR = 3600;
const DAY = 24 * HOUR;

/** Days with so many starts each, two hours apart; whose alarms of a tag were raised. */
function raised(tag: string, days: readonly number[]): string[] {
  const boat = new HandMadeBoat(packRules(["bilge"])).at(0, { [PUMP]: "off" });
  days.forEach((count, day) => {
    for (let start = 0; start < count; start++) {
      const time = day * DAY + (start + 1) * 2 * HOUR;
      boat.at(time, { [PUMP]: "on" }).at(time + 6, { [PUMP]: "off" });
    }
  });
  boat.until(days.length * DAY);
  return boat.changes.filter((change) => change.tag === tag && change.from === "normal")
    .map(({ subject }) => subject);
}

const days = (count: number, starts: number) => new Array<number>(count).fill(starts);

describe("a bilge pump over weeks", () => {
  test("that starts four times as often as it usually does in a day, and six times at least, is told", () => {
    expect(raised("pump-starts-more-than-usual", [...days(10, 1), 11])).toHaveLength(1);
    expect(raised("pump-starts-more-than-usual", [...days(10, 1), 5])).toEqual([]);
    expect(raised("pump-starts-more-than-usual", [...days(10, 3), 8])).toEqual([]);
    expect(raised("pump-starts-more-than-usual", days(30, 3))).toEqual([]);
    // In the first week nobody knows what is usual.
    expect(raised("pump-starts-more-than-usual", [1, 1, 1, 11])).toEqual([]);
  });

  test("that has not run for thirty days is told, and one that ran once is not", () => {
    expect(raised("pump-never-ran", days(31, 0))).toHaveLength(1);
    expect(raised("pump-never-ran", days(29, 0))).toEqual([]);
    expect(raised("pump-never-ran", [...days(15, 0), 1, ...days(20, 0)])).toEqual([]);
  });
});
