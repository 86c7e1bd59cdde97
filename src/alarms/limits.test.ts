import { describe, expect, test } from "vitest";
import { boatWith, HandMadeBoat, micros } from "../../tests/support/hand-made-boat.ts";
import { oneRule } from "../../tests/support/one-rule.ts";

const VOLTS = "battery/house/voltage";

const rule = (test: string, more = "") => oneRule("battery", test, more);

/** The state after one value, from a boat that knows nothing else. */
function stateAt(value: number, test: string): string {
  const boat = new HandMadeBoat(rule(test)).at(0, { [VOLTS]: value });
  return boat.alarms.statuses()[0].state;
}

describe("a limit", () => {
  // One step of the signal is 0.01 V, as PGN 127508 sends it.
  test.each([
    ["low", 12.2, "normal"],
    ["low", 12.19, "unacknowledged"],
    ["low", 12.21, "normal"],
    ["high", 12.2, "normal"],
    ["high", 12.21, "unacknowledged"],
    ["high", 12.19, "normal"],
  ])("of %s 12.2 V is strict: %d V is %s", (kind, value, state) => {
    expect(stateAt(value, `${kind}: { signal: voltage, setpoint: 12.2 V }`)).toBe(state);
  });

  test("is not passed by the noise of binary fractions", () => {
    // 1220 × 0.01 and 0.1 + 12.1 both miss 12.2 by the last bit.
    for (const value of [1220 * 0.01, 12.1 + 0.1, 12.2]) {
      expect(stateAt(value, "low: { signal: voltage, setpoint: 12.2 V }")).toBe("normal");
      expect(stateAt(value, "high: { signal: voltage, setpoint: 12.2 V }")).toBe("normal");
    }
  });

  test.each([
    ["low", "0.1 V", 12.1, [12.2, 12.29], 12.3],
    ["high", "0.1 V", 12.3, [12.2, 12.11], 12.1],
    ["low", "5 %", 12.1, [12.2, 12.8], 12.81],
    ["low", "100 mV", 12.1, [12.2, 12.29], 12.3],
  ])("of %s with a deadband of %s is left at its far end, not before", (
    kind,
    deadband,
    active,
    inside,
    back,
  ) => {
    const text = rule(`${kind}: { signal: voltage, setpoint: 12.2 V, deadband: ${deadband} }`);
    const boat = new HandMadeBoat(text).at(0, { [VOLTS]: active });
    for (const value of inside) boat.at(1, { [VOLTS]: value });
    expect(boat.alarms.statuses()[0].state).toBe("unacknowledged");
    boat.at(2, { [VOLTS]: back });
    expect(boat.alarms.statuses()[0].state).toBe("returned-unacknowledged");
  });

  test("in percentage points where the signal is in %", () => {
    const boat = new HandMadeBoat(
      rule("low: { signal: state-of-charge, setpoint: 20 %, deadband: 3 % }"),
    ).at(0, { "battery/house/state-of-charge": 19 });
    boat.at(1, { "battery/house/state-of-charge": 22.9 });
    expect(boat.alarms.statuses()[0].state).toBe("unacknowledged");
    boat.at(2, { "battery/house/state-of-charge": 23 });
    expect(boat.alarms.statuses()[0].state).toBe("returned-unacknowledged");
  });

  test("in another unit of the same kind is the same limit", () => {
    const text = `
alarms:
  - { tag: hot, title: Hot, each: engine, priority: alarm,
      high: { signal: coolant-temperature, setpoint: 203 °F, deadband: 9 °F } }
`;
    const boat = new HandMadeBoat(text);
    const states = [95, 95.01, 90.01, 90].map((value, i) => {
      boat.at(i, { "engine/port/coolant-temperature": value });
      return boat.alarms.statuses()[0].state;
    });
    expect(states).toEqual([
      "normal",
      "unacknowledged",
      "unacknowledged",
      "returned-unacknowledged",
    ]);
  });
});

describe("a limit from the boat file", () => {
  test("is a share of the rated speed", () => {
    const text = `
alarms:
  - { tag: over-speed, title: Over-speed, each: engine, priority: alarm,
      high: { signal: speed, setpoint: 103 % of rated-speed } }
`;
    const described = boatWith([
      { group: "engine", name: "port", numbers: { "rated-speed": 2600 } },
      { group: "engine", name: "starboard" },
    ]);
    const boat = new HandMadeBoat(text, described)
      .at(0, { "engine/port/speed": 2678, "engine/starboard/speed": 9000 })
      .at(1, { "engine/port/speed": 2678.25 });
    expect(boat.story).toEqual(["1 over-speed port unacknowledged"]);
    expect(boat.alarms.notWatched()).toMatchObject([{
      subject: "starboard",
      reason: "the boat file gives no rated-speed for engine starboard",
    }]);
  });

  test("scales with the nominal voltage, and its deadband with it", () => {
    const text = rule(
      "low: { signal: voltage, setpoint: 12.2 V per 12 V, deadband: 0.1 V per 12 V }",
    );
    const described = boatWith([{ group: "battery", name: "house", numbers: { nominal: 24 } }]);
    const boat = new HandMadeBoat(text, described);
    const states = [24.4, 24.39, 24.59, 24.6].map((value, i) => {
      boat.at(i, { [VOLTS]: value });
      return boat.alarms.statuses()[0].state;
    });
    expect(states).toEqual([
      "normal",
      "unacknowledged",
      "unacknowledged",
      "returned-unacknowledged",
    ]);
  });
});

describe("delays", () => {
  const text = rule(
    "low: { signal: voltage, setpoint: 12.2 V, deadband: 0.1 V }",
    "on-delay: 3 s\n    off-delay: 10 s",
  );

  test("raise at the due time to the microsecond, stamped with it", () => {
    const boat = new HandMadeBoat(text).at(1, { [VOLTS]: 12 });
    boat.untilMicros(micros(4) - 1);
    expect(boat.story).toEqual([]);
    boat.at(4.5, { [VOLTS]: 12 });
    expect(boat.story).toEqual(["4 it house unacknowledged"]);
  });

  test("act before a message of the same instant", () => {
    const boat = new HandMadeBoat(text).at(1, { [VOLTS]: 12 }).at(4, { [VOLTS]: 13 });
    expect(boat.story).toEqual(["4 it house unacknowledged"]);
    const early = new HandMadeBoat(text).at(1, { [VOLTS]: 12 });
    early.atMicros(micros(4) - 1, { [VOLTS]: 13 }).until(60);
    expect(early.story).toEqual([]);
  });

  test("begin anew after one value that is not past the limit", () => {
    const boat = new HandMadeBoat(text).at(1, { [VOLTS]: 12 }).at(2, { [VOLTS]: 12.2 })
      .at(3, { [VOLTS]: 12 }).until(60);
    expect(boat.story).toEqual(["6 it house unacknowledged"]);
  });

  test("return after the off-delay, which a fall back inside restarts", () => {
    const boat = new HandMadeBoat(text).at(0, { [VOLTS]: 12 }).at(10, { [VOLTS]: 12.3 })
      .at(15, { [VOLTS]: 12.25 }).at(20, { [VOLTS]: 12.3 }).until(60);
    expect(boat.story).toEqual([
      "3 it house unacknowledged",
      "30 it house returned-unacknowledged",
    ]);
  });
});

describe("a limit of a condition", () => {
  const text = `
alarms:
  - { tag: low-at-rest, title: Low, each: battery, priority: warning,
      low: { signal: temperature, setpoint: 0 °C },
      watch-while: { all: [
        { signal: current, over: -2 % of hourly-capacity },
        { signal: voltage, under: 13 V per 12 V } ] } }
`;
  const described = boatWith([
    { group: "battery", name: "house", numbers: { nominal: 24, capacity: 400 } },
    { group: "battery", name: "start" },
  ]);
  const told = (amperes: number, volts: number) =>
    new HandMadeBoat(text, described).at(0, {
      "battery/house/temperature": -5,
      "battery/house/current": amperes,
      "battery/house/voltage": volts,
    });

  test("can be a share of a battery's capacity, and scales with its voltage", () => {
    expect(told(-7.9, 25.9).story).toEqual(["0 low-at-rest house unacknowledged"]);
    expect(told(-8, 25.9).story).toEqual([]);
    expect(told(-7.9, 26).story).toEqual([]);
    expect(told(-7.9, 25.9).changes[0].explanation?.conditions).toEqual([
      { condition: "battery/house/current over -2 % of hourly-capacity", answer: "yes" },
      { condition: "battery/house/voltage under 13 V per 12 V", answer: "yes" },
    ]);
  });

  test("of which the boat file has no number is not judged, and says so", () => {
    const boat = new HandMadeBoat(text, described)
      .at(0, { "battery/start/current": 0, "battery/start/voltage": 12 });
    expect(boat.alarms.notWatched().find(({ subject }) => subject === "start")?.reason)
      .toBe("the boat file gives no capacity for battery start");
  });
});
