import { describe, expect, test } from "vitest";
import { boatWith, HandMadeBoat, micros } from "../../tests/support/hand-made-boat.ts";

const VOLTS = "battery/house/voltage";
const FLOAT = "bilge/aft/float";
const HOUR = 3600;
const DAY = 24 * HOUR;

const RULES = `
alarms:
  - { tag: low, title: Low, each: battery, priority: warning,
      low: { signal: voltage, setpoint: 12 V } }
  - { tag: float, title: Float, each: bilge, priority: emergency-alarm,
      reads: { signal: float, one-of: [on] } }
  - { tag: cool, title: Cool, each: battery, priority: caution,
      low: { signal: temperature, setpoint: 5 °C } }
`;

describe("the least room", () => {
  test("is kept for an hour and for a day", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 12.5 }).at(10, { [VOLTS]: 12.1 })
      .at(20, { [VOLTS]: 13 });
    const room = (seconds: number) => {
      const [{ room, hour, day }] = boat.alarms.roomLeft(micros(seconds));
      return [room, hour, day].map((one) =>
        one === null || one === undefined ? one : +one.toFixed(3)
      );
    };
    expect(room(30)).toEqual([0.5, 0.05, 0.05]);
    boat.at(2 * HOUR, { [VOLTS]: 13.2 }).at(2 * HOUR + 2, { [VOLTS]: 13 });
    expect(room(2 * HOUR + 2)).toEqual([0.5, 0.5, 0.05]);
    boat.at(2 * DAY, { [VOLTS]: 13.4 });
    expect(room(2 * DAY)).toEqual([0.7, 0.7, 0.7]);
  });
});

describe("the proof register", () => {
  /** Wall time of the first watch, and half a year. */
  const SINCE = micros(-3 * DAY);
  const SEASON = 183 * DAY * 1_000_000;

  test("has the last time at which each alarm really sounded, and when it is due", () => {
    const boat = new HandMadeBoat(RULES)
      .at(0, { [VOLTS]: 13, [FLOAT]: "off", "battery/house/temperature": 1 });
    const proofs = () =>
      boat.alarms.proofs(SINCE).map(({ tag, sounded, due }) => [tag, sounded, due]);
    expect(proofs()).toEqual([["float", null, SINCE + SEASON], ["low", null, SINCE + SEASON]]);
    boat.at(60, { [FLOAT]: "on" }).at(70, { [FLOAT]: "off" });
    expect(proofs()).toEqual([
      ["low", null, SINCE + SEASON],
      ["float", micros(60), micros(60) + SEASON],
    ]);
  });

  test("has rules of one title about one signal once: who lifts the float proves both", () => {
    const boat = new HandMadeBoat(`
alarms:
  - tag: at-rest
    title: High water
    each: bilge
    priority: emergency-alarm
    reads: { signal: float, one-of: [on] }
    suppressed-while: { signal: boat/under-way, one-of: [on] }
  - tag: under-way
    title: High water
    each: bilge
    priority: emergency-alarm
    reads: { signal: float, one-of: [on] }
    suppressed-while: { not: { signal: boat/under-way, one-of: [on] } }
`).at(0, { [FLOAT]: "off", "boat/under-way": 0 });
    const proofs = () => boat.alarms.proofs(SINCE).map(({ title, sounded }) => [title, sounded]);
    expect(proofs()).toEqual([["High water", null]]);
    boat.at(60, { [FLOAT]: "on" });
    expect(proofs()).toEqual([["High water", micros(60)]]);
  });

  test("counts nothing while no real boat is heard", () => {
    const boat = new HandMadeBoat(RULES);
    boat.alarms.isProof = false;
    boat.at(0, { [FLOAT]: "off" }).at(60, { [FLOAT]: "on" });
    expect(boat.story).toEqual(["60 float aft unacknowledged"]);
    expect(boat.alarms.proofs(SINCE)[0].sounded).toBeNull();
  });

  test("counts nothing that was not told, and survives a restart", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [FLOAT]: "off" });
    const name = { tag: "float", subject: "aft", occurrence: 0, who: "Ann" } as const;
    boat.person(1, { ...name, kind: "shelve", length: 1_000_000_000 });
    boat.at(2, { [FLOAT]: "on" }).at(3, { [FLOAT]: "off" });
    expect(boat.alarms.proofs(SINCE)[0].sounded).toBeNull();
    boat.person(5, { ...name, kind: "unshelve", occurrence: 1 });
    boat.at(6, { [FLOAT]: "on" });
    const memory = boat.alarms.memory(micros(7));
    const described = boatWith([{ group: "bilge", name: "aft" }]);
    const after = new HandMadeBoat(RULES, described, memory).at(10, { [FLOAT]: "off" });
    expect(after.alarms.proofs(SINCE)[0].sounded).toBe(micros(6));
  });
});
