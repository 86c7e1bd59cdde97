import { describe, expect, test } from "vitest";
import { boatWith, HandMadeBoat, micros } from "../../tests/support/hand-made-boat.ts";
import { Quality, Reason } from "../boat/quality.ts";

const VOLTS = "engine/port/cranking-voltage";
const DAY = 24 * 3600;

function rules(inARow: number): string {
  return `
alarms:
  - tag: starts-weaker
    title: Starts weaker
    each: engine
    low: { signal: cranking-voltage, setpoint: { usual: 10 starts, apart: 0.7 V, in-a-row: ${inARow} } }
    priority: caution
`;
}

/** A start a day, each with its lowest volts; equal ones are told anew, as the boat does. */
function starts(
  volts: readonly number[],
  { inARow = 1, boat = new HandMadeBoat(rules(inARow)), from = 0 } = {},
): HandMadeBoat {
  for (const [day, one] of volts.entries()) {
    const now = (from + day) * DAY;
    const known = boat.table.find(VOLTS);
    if (known >= 0) boat.table.set(known, one, Quality.good, Reason.none, micros(now));
    boat.at(now, { [VOLTS]: one });
  }
  return boat;
}

const same = (count: number, volts = 11.3) => new Array<number>(count).fill(volts);
const reason = (boat: HandMadeBoat) => boat.alarms.notWatched()[0]?.reason;

describe("a signal against its own last starts", () => {
  test("is not judged before five are known, and says how many are", () => {
    expect(reason(starts([11.3, 11.4]))).toBe("only 2 of 5 starts known");
    expect(starts([11.3, 11.4, 11.2, 11.3, 9]).story).toEqual([]);
    expect(reason(starts([...same(5)]))).toBe("the next start is the first that can be judged");
    expect(reason(starts([...same(6)]))).toBeUndefined();
  });

  test("is past its limit under the median, and back with the next start that is not", () => {
    const boat = starts([...same(5), 10.5, 11.2]);
    expect(boat.story).toEqual([
      `${5 * DAY} starts-weaker port acknowledged`,
      `${6 * DAY} starts-weaker port normal`,
    ]);
    expect(boat.changes[0]).toMatchObject({ value: 0.8, setpoint: 0.7, unit: "V" });
    expect(boat.changes.map(({ why }) => why)).toEqual([
      "Port cranking voltage 0.80 V under that of its last starts; the limit is 0.70 V.",
      "Port cranking voltage 0.10 V under that of its last starts, back inside its limit of 0.70 V.",
    ]);
  });

  test("counts starts by the event: equal volts are starts too", () => {
    expect(reason(starts(same(3)))).toBe("only 3 of 5 starts known");
  });

  test("is not known, and stays as it is, after a start that told no volts", () => {
    const boat = starts([...same(5), 10]).at(7 * DAY, { [VOLTS]: "not available" });
    expect(boat.alarms.statuses()[0].state).toBe("acknowledged");
    expect(reason(boat)).toBe(`${VOLTS} is sent as not available`);
  });

  test("learns nothing from a start that is past the limit, so that it stays one", () => {
    expect(starts([...same(10), ...same(20, 10.5)]).alarms.statuses()[0].state)
      .toBe("acknowledged");
  });

  test("holds slow decay against the median from the beginning", () => {
    const boat = starts(Array.from({ length: 60 }, (_, start) => 11.3 - 0.02 * start));
    expect(boat.story).toEqual([`${38 * DAY} starts-weaker port acknowledged`]);
  });

  test("wants as many in a row as the rule says, so that a stray reading is none", () => {
    const stray = [...same(5), 9.7, 9.7, 11.3, 9.7, 11.3, 9.7];
    expect(starts(stray, { inARow: 3 }).story).toEqual([]);
    const boat = starts([...same(5), 10.5, 10.4, 10.5, 11.3], { inARow: 3 });
    expect(boat.story).toEqual([
      `${7 * DAY} starts-weaker port acknowledged`,
      `${8 * DAY} starts-weaker port normal`,
    ]);
  });

  test("goes on after a restart with the starts that it knew", () => {
    const before = starts([...same(5), 10.5, 10.5], { inARow: 3 });
    const described = boatWith([{ group: "engine", name: "port" }]);
    const memory = before.alarms.memory(micros(8 * DAY));
    const boat = new HandMadeBoat(rules(3), described, JSON.parse(JSON.stringify(memory)));
    starts([10.5], { boat, from: 9 });
    expect(boat.story).toEqual([`${9 * DAY} starts-weaker port acknowledged`]);
  });

  test("does not count one start twice when its rule file is read again", () => {
    const boat = starts(same(3));
    boat.alarms.setRules([...boat.alarms.list.map(({ rule }) => rule)], micros(3 * DAY));
    expect(reason(boat)).toBe("only 3 of 5 starts known");
  });
});

test("a high rule looks the other way", () => {
  const boat = new HandMadeBoat(rules(1).replace("low:", "high:"));
  expect(starts([...same(5), 9, 12.1], { boat }).story).toEqual([
    `${6 * DAY} starts-weaker port acknowledged`,
  ]);
  expect(boat.changes[0].why).toMatch(/0\.80 V over that of its last starts/);
});
