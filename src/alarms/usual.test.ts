import { describe, expect, test } from "vitest";
import { boatWith, HandMadeBoat, micros } from "../../tests/support/hand-made-boat.ts";

const OIL = "engine/port/oil-pressure";
const SPEED = "engine/port/speed";
const PUMP = "bilge/aft/pump";
const HOUR = 3600;
const DAY = 24 * HOUR;

const RULES = `
alarms:
  - tag: oil-below-usual
    title: Oil pressure below its own usual
    each: engine
    low:
      signal: oil-pressure
      setpoint: { usual: 20 h, share: 75 %, by: speed, band: 200 rpm }
      deadband: 5 %
    watch-while: { signal: speed, over: 500 rpm }
    on-delay: 5 min
    priority: caution
`;

/** An engine that has run for some hours at one speed and pressure, in kilopascals. */
function ran(hours: number, speed = 1500, oil = 400, rules = RULES): HandMadeBoat {
  return new HandMadeBoat(rules)
    .at(0, { [SPEED]: speed, [OIL]: oil * 1000 })
    .at(hours * HOUR, { [SPEED]: speed, [OIL]: oil * 1000 });
}

describe("a signal against its own usual", () => {
  test("is past its limit when it is a share of what it was at the same speed", () => {
    const boat = ran(1).at(HOUR, { [OIL]: 310_000 }).until(2 * HOUR)
      .at(2 * HOUR, { [OIL]: 290_000 }).until(3 * HOUR)
      .at(3 * HOUR, { [OIL]: 390_000 });
    expect(boat.story).toEqual([
      `${2 * HOUR + 300} oil-below-usual port acknowledged`,
      `${3 * HOUR} oil-below-usual port normal`,
    ]);
    expect(boat.changes[0]).toMatchObject({ setpoint: 75, unit: "%" });
    expect(boat.changes[0].why).toMatch(/^Port oil pressure 7\d % of its usual; the limit is 75 %/);
  });

  test("is not known where too little was learned: after half an hour, and at another speed", () => {
    expect(ran(0.4).at(HOUR, {}).at(0.4 * HOUR, { [OIL]: 0 }).until(DAY).story).toEqual([]);
    const idling = ran(1).at(HOUR, { [SPEED]: 700, [OIL]: 100_000 }).until(HOUR + 1000);
    expect(idling.story).toEqual([]);
  });

  test("learns nothing while it is past its limit", () => {
    const boat = ran(1).at(HOUR, { [OIL]: 200_000 }).until(60 * HOUR);
    expect(boat.alarms.statuses()[0].state).toBe("acknowledged");
  });

  test("holds slow decay against the baseline from the beginning", () => {
    const boat = ran(1);
    let hours = 1;
    for (let oil = 395; oil >= 290; oil -= 5) {
      hours += 20;
      boat.at(hours * HOUR, { [OIL]: oil * 1000 });
    }
    boat.until((hours + 1) * HOUR);
    expect(boat.story).toHaveLength(1);
  });

  test("learns nothing while its rule does not watch", () => {
    const boat = ran(1).at(HOUR, { [SPEED]: 0, [OIL]: 0 }).at(50 * HOUR, { [SPEED]: 1500 })
      .until(51 * HOUR);
    expect(boat.story).toEqual([`${50 * HOUR + 300} oil-below-usual port acknowledged`]);
  });

  test("goes on after a restart with what was learned", () => {
    const boat = ran(1);
    const described = boatWith([{ group: "engine", name: "port" }]);
    const memory = boat.alarms.memory(micros(HOUR));
    const after = new HandMadeBoat(RULES, described, memory)
      .at(0, { [SPEED]: 1500, [OIL]: 250_000 }).until(300);
    expect(after.story).toEqual(["300 oil-below-usual port acknowledged"]);
  });
});

describe("twins beyond their usual difference", () => {
  test("are apart by more than they always were", () => {
    const text = `
alarms:
  - { tag: twins, title: Twins, each: engine-pair, priority: caution,
      deviation: { signal: coolant-temperature, limit: 8 K, usual: 20 h } }
`;
    const boat = new HandMadeBoat(text)
      .at(0, { "engine/port/coolant-temperature": 82, "engine/starboard/coolant-temperature": 76 })
      .at(HOUR, { "engine/starboard/coolant-temperature": 69 })
      .at(HOUR + 10, { "engine/starboard/coolant-temperature": 67 });
    expect(boat.story).toEqual([`${HOUR + 10} twins port-starboard acknowledged`]);
    expect(boat.changes[0].value).toBeCloseTo(9, 1);
  });
});

describe("starts against a usual day", () => {
  const text = `
alarms:
  - tag: often
    title: Often
    each: bilge
    count: { starts-of: pump, within: 24 h, at-least: 6, usual: 14 d, times: 4 }
    priority: warning
`;

  /** Days with so many starts each, an hour apart. */
  function days(starts: readonly number[]): HandMadeBoat {
    const boat = new HandMadeBoat(text).at(0, { [PUMP]: "off" });
    starts.forEach((count, day) => {
      for (let start = 0; start < count; start++) {
        const time = day * DAY + (start + 1) * HOUR;
        boat.at(time, { [PUMP]: "on" }).at(time + 6, { [PUMP]: "off" });
      }
    });
    return boat;
  }

  test("are too many at four times as many, and at least six", () => {
    const usual = new Array<number>(10).fill(2);
    expect(days([...usual, 5]).story).toEqual([]);
    // Usual is a little over two by then, since this day's starts count too.
    expect(days([...usual, 12]).story).toEqual([`${10 * DAY + 9 * HOUR} often aft unacknowledged`]);
    expect(days([...usual.fill(0), 5]).story).toEqual([]);
    expect(days([...usual.fill(0), 6]).story).toEqual([
      `${10 * DAY + 6 * HOUR} often aft unacknowledged`,
    ]);
  });

  test("are not known in the first week", () => {
    expect(days([1, 1, 1, 20]).story).toEqual([]);
  });
});
