import { describe, expect, test } from "vitest";
import { boatWith, HandMadeBoat } from "../../tests/support/hand-made-boat.ts";

const VOLTS = "battery/house/voltage";

const RULES = `
alarms:
  - { tag: a-high, title: High, each: battery, priority: warning,
      high: { signal: voltage, setpoint: 15 V } }
  - { tag: b-very-high, title: Very high, each: battery, priority: alarm, covers: [a-high],
      high: { signal: voltage, setpoint: 16 V } }
`;

describe("an alarm that covers another", () => {
  test("is alone where both would be raised at one instant", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 17 });
    expect(boat.story).toEqual(["0 b-very-high house unacknowledged"]);
  });

  test("is alone where both fall due at one instant, whichever has the earlier tag", () => {
    const delayed = RULES.replaceAll("priority:", "on-delay: 5 s, priority:");
    const boat = new HandMadeBoat(delayed).at(0, { [VOLTS]: 17 }).until(60);
    expect(boat.story).toEqual(["5 b-very-high house unacknowledged"]);
  });

  test("covers only what it names itself, where a chain of three falls due at one instant", () => {
    const chain = `${RULES}
  - { tag: c-far-too-high, title: Far too high, each: battery, priority: alarm,
      covers: [b-very-high], high: { signal: voltage, setpoint: 17 V } }`;
    const delayed = chain.replaceAll("priority:", "on-delay: 5 s, priority:");
    const boat = new HandMadeBoat(delayed).at(0, { [VOLTS]: 18 }).until(60);
    expect(boat.story).toEqual([
      "5 c-far-too-high house unacknowledged",
      "5 a-high house unacknowledged",
    ]);
  });

  test("hides nothing that was already raised", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 15.5 }).at(10, { [VOLTS]: 17 });
    expect(boat.story).toEqual([
      "0 a-high house unacknowledged",
      "10 b-very-high house unacknowledged",
    ]);
    expect(boat.alarms.statuses().map(({ state }) => state))
      .toEqual(["unacknowledged", "unacknowledged"]);
  });

  test("gives the other free when its own condition has gone", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 17 }).at(10, { [VOLTS]: 15.5 });
    expect(boat.story).toEqual([
      "0 b-very-high house unacknowledged",
      "10 b-very-high house returned-unacknowledged",
      "10 a-high house unacknowledged",
    ]);
  });

  test("does so for its own subject only", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 17, "battery/start/voltage": 15.5 });
    expect(boat.story).toEqual([
      "0 b-very-high house unacknowledged",
      "0 a-high start unacknowledged",
    ]);
  });

  test("does not while it is shelved itself", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 13 });
    const name = { tag: "b-very-high", subject: "house", occurrence: 0, who: "Ann" } as const;
    boat.person(1, { ...name, kind: "shelve", length: 3_600_000_000 });
    boat.at(2, { [VOLTS]: 17 });
    expect(boat.story.at(-1)).toBe("2 a-high house unacknowledged");
  });

  test("covers what the boat file relates to its subject", () => {
    const text = `
alarms:
  - { tag: charger-fault, title: Fault, each: charger, priority: warning, covers: [a-low],
      reads: { signal: operating-state, one-of: [fault] } }
  - { tag: a-low, title: Low, each: battery, priority: warning,
      low: { signal: voltage, setpoint: 12 V } }
`;
    const described = boatWith([
      { group: "charger", name: "shore", relations: { battery: "house" } },
      { group: "battery", name: "house" },
      { group: "battery", name: "start" },
    ]);
    const boat = new HandMadeBoat(text, described)
      .at(0, { "charger/shore/operating-state": "fault" })
      .at(10, { [VOLTS]: 11, "battery/start/voltage": 11 });
    expect(boat.story).toEqual([
      "0 charger-fault shore unacknowledged",
      "10 a-low start unacknowledged",
    ]);
  });

  test("keeps what it covers from being raised after a restart too", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 17 });
    const memory = boat.alarms.memory(1);
    const described = boatWith([{ group: "battery", name: "house" }]);
    const after = new HandMadeBoat(RULES, described, memory).at(5, { [VOLTS]: 17 });
    expect(after.story).toEqual([]);
  });
});
