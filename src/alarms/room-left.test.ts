import { describe, expect, test } from "vitest";
import { boatWith, HandMadeBoat, micros, type Said } from "../../tests/support/hand-made-boat.ts";
import { oneRule } from "../../tests/support/one-rule.ts";

/** NIST SP 811, B.8. */
const PSI = 6894.757;
const OIL = "engine/port/oil-pressure";
const SPEED = "engine/port/speed";
const COOLANT = "engine/port/coolant-temperature";
const PUMP = "bilge/aft/pump";
const HOUR = 3600;

/** Room, least of the hour and least of the day. */
function roomsAt(boat: HandMadeBoat, seconds: number): (number | null | undefined)[] {
  const [{ room, hour, day }] = boat.until(seconds).alarms.roomLeft(micros(seconds));
  return [room, hour, day];
}

function roomAt(boat: HandMadeBoat, seconds: number): number | null | undefined {
  return roomsAt(boat, seconds)[0];
}

const roomOf = (each: string, text: string, said: Said) =>
  roomAt(new HandMadeBoat(oneRule(each, text)).at(0, said), 0);

// The figures are worked by hand with the formula of the contract: the distance to the setpoint over
// a fixed span, 400 kPa of oil pressure, 60 K of coolant, 2 V of a battery of 12 V.
describe("room left of a limit", () => {
  test.each([
    // (95 - 82) / 60, and 3 K beyond.
    ["high", 82, 13 / 60],
    ["high", 95, 0],
    ["high", 98, -0.05],
    // (82 - 95) / 60
    ["low", 82, -13 / 60],
  ])("of %s 95 °C, at %d °C", (kind, value, room) => {
    const text = `${kind}: { signal: coolant-temperature, setpoint: 95 °C }`;
    expect(roomOf("engine", text, { [COOLANT]: value })).toBeCloseTo(room, 9);
  });

  test("in the owner's unit is the same room: 203 °F is 95 °C", () => {
    const text = "high: { signal: coolant-temperature, setpoint: 203 °F }";
    expect(roomOf("engine", text, { [COOLANT]: 82 })).toBeCloseTo(13 / 60, 9);
  });

  const curve = "{ 700 rpm: 10 psi, 1200 rpm: 15 psi, 1800 rpm: 25 psi, 2600 rpm: 30 psi }";

  test.each([
    // Limits of 10, 20 (half way from 15 to 25), 26.25 (a quarter from 25 to 30) and 30 psi.
    [600, 30],
    [1500, 20],
    [2000, 13.75],
    [3000, 10],
  ])("along a curve is from the limit of that speed: 40 psi at %d rpm", (speed, psi) => {
    const text = `low: { signal: oil-pressure, setpoint: { along: speed, curve: ${curve} } }`;
    const room = roomOf("engine", text, { [OIL]: 40 * PSI, [SPEED]: speed });
    expect(room).toBeCloseTo(psi * PSI / 400_000, 6);
  });

  test("along a curve at the lowest speed of three seconds is from the limit as judged then", () => {
    const boat = new HandMadeBoat(oneRule(
      "engine",
      `low: { signal: oil-pressure,
        setpoint: { along: speed, lowest-of: 3 s, curve: ${curve} } }`,
    )).at(0, { [OIL]: 40 * PSI, [SPEED]: 1200 }).at(10, { [SPEED]: 1800 });
    // 40 - 15 psi until the 1,200 rpm are three seconds old, then 40 - 25.
    expect(roomAt(boat, 12)).toBeCloseTo(25 * PSI / 400_000, 6);
    expect(roomsAt(boat, 13).map((room) => room?.toFixed(5))).toEqual([
      (15 * PSI / 400_000).toFixed(5),
      ...Array(2).fill((15 * PSI / 400_000).toFixed(5)),
    ]);
  });

  test("is least in the hour and the day where it was least, and is no more after them", () => {
    const text = oneRule("engine", "high: { signal: coolant-temperature, setpoint: 95 °C }");
    const boat = new HandMadeBoat(text).at(0, { [COOLANT]: 80 }).at(60, { [COOLANT]: 92 })
      .at(120, { [COOLANT]: 77 });
    // 15, 3 and 18 K of 60.
    expect(roomsAt(boat, 180)).toEqual([0.3, 0.05, 0.05]);
    boat.at(2 * HOUR, { [COOLANT]: 83 });
    expect(roomsAt(boat, 2 * HOUR)).toEqual([0.2, 0.2, 0.05]);
    boat.at(26 * HOUR, { [COOLANT]: 83 });
    expect(roomsAt(boat, 26 * HOUR)).toEqual([0.2, 0.2, 0.2]);
  });

  test("is none while the rule does not watch, and the least stays", () => {
    const boat = new HandMadeBoat(oneRule(
      "engine",
      "high: { signal: coolant-temperature, setpoint: 95 °C }",
      "watch-while: { signal: speed, over: 500 rpm }",
    )).at(0, { [COOLANT]: 92, [SPEED]: 700 }).at(10, { [SPEED]: 0 });
    const [{ room, reason, hour }] = boat.alarms.roomLeft(micros(10));
    expect([room, reason, hour]).toEqual([null, "not watching", 0.05]);
  });
});

describe("room left of a figure, a share of its limit", () => {
  test.each([
    // (8 - 2) / 8
    [
      "deviation",
      0.75,
      () =>
        roomOf("engine-pair", "deviation: { signal: coolant-temperature, limit: 8 K }", {
          [COOLANT]: 82,
          "engine/starboard/coolant-temperature": 80,
        }),
    ],
    // 20 psi apart are past 15 by a third of it.
    [
      "a deviation that is past it",
      -1 / 3,
      () =>
        roomOf("engine-pair", "deviation: { signal: oil-pressure, limit: 15 psi }", {
          [OIL]: 50 * PSI,
          "engine/starboard/oil-pressure": 30 * PSI,
        }),
    ],
    // (4 - 1) / 4
    [
      "count",
      0.75,
      () => roomAt(pumped("count: { starts-of: pump, within: 1 h, at-least: 4 }"), 60),
    ],
    // (180 - 60) / 180
    [
      "running-time",
      2 / 3,
      () => roomAt(pumped("running-time: { while: pump, at-least: 3 min }"), 70),
    ],
    // It rose by 2 of 6 K within the minute.
    ["rate-of-change", 2 / 3, () => {
      const text = "rate-of-change: { signal: coolant-temperature, rise: 6 K, within: 60 s }";
      const boat = new HandMadeBoat(oneRule("engine", text)).at(0, { [COOLANT]: 80 })
        .at(30, { [COOLANT]: 82 }).at(60, { [COOLANT]: 82 });
      return roomAt(boat, 60);
    }],
    // A minute of longitude on the equator is 1,855.324847 m (GeodSolve): 0.006 of it, which is
    // 0.0001 degrees, of 30 + 15 m.
    ["moved", 1 - 11.131949 / 45, () =>
      roomOf(
        "",
        "moved: { from: { latitude: 0°, longitude: 0° }, radius: 30 m, fix-error: 15 m }",
        { "position/latitude": 0, "position/longitude": 0.0001 },
      )],
  ])("%s", (_name, room, found) => expect(found()).toBeCloseTo(room, 6));

  test("below a share of the usual is how far it lies over that share", () => {
    const boat = new HandMadeBoat(oneRule(
      "engine",
      "low: { signal: oil-pressure, setpoint: { usual: 20 h, share: 75 % } }",
    )).at(0, { [OIL]: 400_000 }).at(HOUR, { [OIL]: 360_000 });
    // 90 % of what it was for an hour: (90 - 75) / 75.
    expect(roomAt(boat, HOUR)).toBeCloseTo(0.2, 3);
  });

  test.each([
    "reads: { signal: pump, one-of: [on] }",
    "bit-pattern: { signal: pump }",
    "discrepancy: { commanded: pump, actual: float }",
    "count: { starts-of: pump, within: 30 d, at-most: 0 }",
  ])("is not asked of %s", (text) => expect(pumped(text).alarms.roomLeft(micros(60))).toEqual([]));
});

/** A pump that starts at 10 s and runs on. */
function pumped(text: string): HandMadeBoat {
  const described = boatWith([{ group: "bilge", name: "aft" }]);
  return new HandMadeBoat(oneRule("bilge", text), described)
    .at(0, { [PUMP]: "off", "bilge/aft/float": "off" }).at(10, { [PUMP]: "on" });
}
