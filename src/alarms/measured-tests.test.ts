import { describe, expect, test } from "vitest";
import { boatWith, HandMadeBoat, micros } from "../../tests/support/hand-made-boat.ts";
import { oneRule } from "../../tests/support/one-rule.ts";

const COOLANT = "engine/port/coolant-temperature";
const OTHER_COOLANT = "engine/starboard/coolant-temperature";
const PUMP = "bilge/aft/pump";
const HOUR = 3600;

describe("deviation", () => {
  const twins = oneRule(
    "engine-pair",
    "deviation: { signal: coolant-temperature, limit: 8 K, deadband: 2 K }",
    "on-delay: 60 s",
  );

  test("of twins is active while they lie further apart than the limit, either way", () => {
    for (const [port, starboard] of [[95, 80], [80, 95]]) {
      const boat = new HandMadeBoat(twins)
        .at(0, { [COOLANT]: port, [OTHER_COOLANT]: starboard }).until(60)
        .at(70, { [COOLANT]: 87, [OTHER_COOLANT]: 80 })
        .at(80, { [COOLANT]: 85 });
      expect(boat.story).toEqual([
        "60 it port-starboard unacknowledged",
        "80 it port-starboard returned-unacknowledged",
      ]);
      expect(boat.changes[0]).toMatchObject({ value: 15, setpoint: 8, unit: "Cel" });
      expect(boat.changes[0].why).toBe(
        "Port and starboard coolant temperature 15.0 °C apart; the limit is 8.0 °C for 1 min.",
      );
    }
  });

  test("at the limit is not beyond it", () => {
    const boat = new HandMadeBoat(twins).at(0, { [COOLANT]: 88, [OTHER_COOLANT]: 80 }).until(HOUR);
    expect(boat.story).toEqual([]);
  });

  test("as a share is one of the greater value", () => {
    const text = oneRule("engine-pair", "deviation: { signal: fuel-rate, limit: 20 % }");
    const boat = new HandMadeBoat(text)
      .at(0, { "engine/port/fuel-rate": 40, "engine/starboard/fuel-rate": 50 })
      .at(1, { "engine/port/fuel-rate": 39 });
    expect(boat.story).toEqual(["1 it port-starboard unacknowledged"]);
    expect(boat.changes[0]).toMatchObject({ value: 22, setpoint: 20, unit: "%" });
  });

  test("is unknown while either is", () => {
    const boat = new HandMadeBoat(twins)
      .at(0, { [COOLANT]: 95, [OTHER_COOLANT]: "not available" }).until(HOUR);
    expect(boat.story).toEqual([]);
    expect(boat.alarms.notWatched()[0].reason).toBe(
      "engine/starboard/coolant-temperature is sent as not available",
    );
  });

  test("compares two signals of other names", () => {
    const text = oneRule(
      "",
      "deviation: { signal: battery/house/voltage, against: battery/start/voltage, limit: 1 V }",
    );
    const boat = new HandMadeBoat(text)
      .at(0, { "battery/house/voltage": 11.4, "battery/start/voltage": 12.6 });
    expect(boat.changes[0].why).toBe(
      "House battery voltage and start battery voltage 1.20 V apart; the limit is 1.00 V.",
    );
  });
});

describe("engine-pair", () => {
  const twins = (more: string) =>
    oneRule("engine-pair", "deviation: { signal: coolant-temperature, limit: 8 K }", more);
  const apart = { [COOLANT]: 95, [OTHER_COOLANT]: 80 };

  test("is watched while a condition holds for both", () => {
    const boat = new HandMadeBoat(twins("watch-while: { signal: speed, over: 1500 rpm }"))
      .at(0, { ...apart, "engine/port/speed": 2000, "engine/starboard/speed": 700 })
      .at(10, { "engine/starboard/speed": 2000 });
    expect(boat.story).toEqual(["10 it port-starboard unacknowledged"]);
  });

  test("can ask that both lie close together", () => {
    const boat = new HandMadeBoat(twins("watch-while: { signal: speed, within: 3 %, held: 2 min }"))
      .at(0, { ...apart, "engine/port/speed": 2000, "engine/starboard/speed": 1900 })
      .at(10, { "engine/starboard/speed": 1940 })
      .until(HOUR);
    expect(boat.story).toEqual(["130 it port-starboard unacknowledged"]);
  });

  test("is the only two engines, whatever they are called", () => {
    const boat = new HandMadeBoat(twins(""))
      .at(0, { "engine/0/coolant-temperature": 95, "engine/1/coolant-temperature": 80 });
    expect(boat.story).toEqual(["0 it 0-1 unacknowledged"]);
  });

  test("is port and starboard where there is a third, and none where it is not clear", () => {
    const third = { "engine/wing/coolant-temperature": 20 };
    expect(new HandMadeBoat(twins("")).at(0, { ...third, ...apart }).story)
      .toEqual(["0 it port-starboard unacknowledged"]);
    const unclear = new HandMadeBoat(twins("")).at(0, {
      ...third,
      "engine/0/coolant-temperature": 95,
      "engine/1/coolant-temperature": 80,
    });
    expect(unclear.alarms.count).toBe(0);
  });

  test("must fit `where` with both", () => {
    const engine = (name: string, fuel: string) => ({ group: "engine", name, words: { fuel } });
    const text = twins("where: { fuel: diesel }");
    const alike = boatWith([engine("port", "diesel"), engine("starboard", "diesel")]);
    expect(new HandMadeBoat(text, alike).at(0, apart).story).toHaveLength(1);
    const unlike = boatWith([engine("port", "diesel"), engine("starboard", "petrol")]);
    expect(new HandMadeBoat(text, unlike).at(0, apart).story).toHaveLength(0);
  });
});

describe("rate-of-change", () => {
  const rising = oneRule(
    "engine",
    "rate-of-change: { signal: coolant-temperature, rise: 6 K, within: 60 s, deadband: 2 K }",
  );

  test("holds the signal against what it read a whole window ago", () => {
    const boat = new HandMadeBoat(rising)
      .at(0, { [COOLANT]: 70 })
      .at(30, { [COOLANT]: 77 })
      .until(59);
    expect(boat.story).toEqual([]);
    boat.until(60);
    expect(boat.story).toEqual(["60 it port unacknowledged"]);
    expect(boat.changes[0]).toMatchObject({ value: 7, setpoint: 6, unit: "Cel" });
    expect(boat.changes[0].why).toBe(
      "Port coolant temperature rose 7.0 °C in 1 min; the limit is 6.0 °C.",
    );
  });

  test("returns when the window has left the rise behind", () => {
    const boat = new HandMadeBoat(rising)
      .at(0, { [COOLANT]: 70 }).at(70, { [COOLANT]: 80 }).until(HOUR);
    expect(boat.story).toEqual([
      "70 it port unacknowledged",
      "130 it port returned-unacknowledged",
    ]);
  });

  test("takes no notice of a fall, which has a test of its own", () => {
    const falling = oneRule("tank", "rate-of-change: { signal: level, fall: 10 %, within: 6 h }");
    const level = "tank/fuel-port/level";
    const tank = new HandMadeBoat(falling)
      .at(0, { [level]: 80 }).at(5 * HOUR, { [level]: 69 }).until(7 * HOUR);
    expect(tank.story).toEqual(["21600 it fuel-port unacknowledged"]);
    const cooling = new HandMadeBoat(rising)
      .at(0, { [COOLANT]: 90 }).at(70, { [COOLANT]: 60 }).until(HOUR);
    expect(cooling.story).toEqual([]);
  });

  test("is unknown where the signal was not known a window ago", () => {
    const boat = new HandMadeBoat(rising)
      .at(0, { [COOLANT]: "not available" })
      .at(50, { [COOLANT]: 70 })
      .at(100, { [COOLANT]: 90 })
      .until(109);
    expect(boat.story).toEqual([]);
    expect(boat.until(110).story).toEqual(["110 it port unacknowledged"]);
  });
});

describe("discrepancy", () => {
  const text = oneRule(
    "bilge",
    "discrepancy: { commanded: pump, actual: { signal: battery/house/current, under: -1 A } }",
    "on-delay: 5 s",
  );
  const CURRENT = "battery/house/current";

  test("is active while what is commanded and what is are not the same", () => {
    const boat = new HandMadeBoat(text)
      .at(0, { [PUMP]: "off", [CURRENT]: 0 })
      .at(10, { [PUMP]: "on" }).until(15)
      .at(20, { [CURRENT]: -4 });
    expect(boat.story).toEqual([
      "15 it aft unacknowledged",
      "20 it aft returned-unacknowledged",
    ]);
    expect(boat.changes[0]).toMatchObject({ signal: CURRENT, value: 0, setpoint: null });
    expect(boat.changes[0].why).toBe(
      "Aft bilge pump on and house battery current 0.0 A do not agree for 5 s.",
    );
  });

  test("is active the other way round too, and unknown while either is", () => {
    const running = new HandMadeBoat(text).at(0, { [PUMP]: "off", [CURRENT]: -4 }).until(5);
    expect(running.story).toEqual(["5 it aft unacknowledged"]);
    const unknown = new HandMadeBoat(text).at(0, { [PUMP]: "on", [CURRENT]: "not available" })
      .until(HOUR);
    expect(unknown.story).toEqual([]);
  });
});

describe("count", () => {
  const often = oneRule("bilge", "count: { starts-of: pump, within: 1 h, at-least: 4 }");

  function pumping(text: string, times: readonly number[], lasting = 6): HandMadeBoat {
    const boat = new HandMadeBoat(text).at(0, { [PUMP]: "off" });
    for (const time of times) boat.at(time, { [PUMP]: "on" }).at(time + lasting, { [PUMP]: "off" });
    return boat;
  }

  test("is raised on the start that reaches the number, and returns as starts leave the window", () => {
    const boat = pumping(often, [100, 400, 700, 1000]).until(2 * HOUR);
    expect(boat.story).toEqual([
      "1000 it aft unacknowledged",
      "3700 it aft returned-unacknowledged",
    ]);
    expect(boat.changes[0]).toMatchObject({ value: 4, setpoint: 4, unit: "1" });
    expect(boat.changes[0].why).toBe(
      "Aft bilge pump came on 4 times in 1 h; the limit is 4 times.",
    );
  });

  test("takes a pump that already runs when it is first heard for no start", () => {
    const boat = new HandMadeBoat(often.replace("at-least: 4", "at-least: 1"))
      .at(0, { [PUMP]: "on" }).until(HOUR);
    expect(boat.story).toEqual([]);
  });

  test("sees a start that came while nothing was heard", () => {
    const boat = new HandMadeBoat(often.replace("at-least: 4", "at-least: 1"))
      .at(0, { [PUMP]: "off" }).at(10, { [PUMP]: "not available" }).at(20, { [PUMP]: "on" });
    expect(boat.story).toEqual(["20 it aft unacknowledged"]);
  });

  test("counts a contact that rattles once, with a rest", () => {
    const rested = often.replace("pump,", "pump, rest: 2 s,");
    const rattling = [0.2, 0.4, 0.6, 0.8].map((later) => 100 + later);
    expect(pumping(rested, rattling, 0.1).until(HOUR).story).toEqual([]);
    expect(pumping(often, rattling, 0.1).story).toEqual(["100.8 it aft unacknowledged"]);
  });

  test("of none can only be said when a whole window was seen", () => {
    const never = oneRule("bilge", "count: { starts-of: pump, within: 30 d, at-most: 0 }");
    const month = 30 * 24 * HOUR;
    const boat = new HandMadeBoat(never).at(0, { [PUMP]: "off" }).until(month - 1);
    expect(boat.story).toEqual([]);
    boat.until(month).at(month + 100, { [PUMP]: "on" });
    expect(boat.story).toEqual([
      `${month} it aft unacknowledged`,
      `${month + 100} it aft returned-unacknowledged`,
    ]);
  });
});

describe("running-time", () => {
  const long = oneRule("bilge", "running-time: { while: pump, at-least: 3 min }");

  test("of this go is reached without a message", () => {
    const boat = new HandMadeBoat(long)
      .at(0, { [PUMP]: "on" }).at(100, { [PUMP]: "off" })
      .at(200, { [PUMP]: "on" }).until(400).at(500, { [PUMP]: "off" });
    expect(boat.story).toEqual([
      "380 it aft unacknowledged",
      "500 it aft returned-unacknowledged",
    ]);
    expect(boat.changes[0]).toMatchObject({ value: 180, setpoint: 180, unit: "s" });
    expect(boat.changes[0].why).toBe("Aft bilge pump on for 3 min; the limit is 3 min.");
  });

  test("does not count the time in which nothing was known", () => {
    const boat = new HandMadeBoat(long)
      .at(0, { [PUMP]: "on" }).at(100, { [PUMP]: "not available" })
      .at(150, { [PUMP]: "on" }).until(HOUR);
    expect(boat.story).toEqual(["230 it aft unacknowledged"]);
  });

  test("in a window is the sum of all goes, and shrinks as they leave it", () => {
    const text = oneRule("bilge", "running-time: { while: pump, within: 1 h, at-least: 3 min }");
    const boat = new HandMadeBoat(text).at(0, { [PUMP]: "off" });
    for (const start of [1000, 2000]) {
      boat.at(start, { [PUMP]: "on" }).at(start + 100, { [PUMP]: "off" });
    }
    boat.until(3 * HOUR);
    expect(boat.story).toEqual([
      "2080 it aft unacknowledged",
      "4620.000001 it aft returned-unacknowledged",
    ]);
  });
});

describe("a figure that grows by itself", () => {
  const fast = oneRule(
    "engine",
    "running-time: { while: { signal: speed, over: 2000 rpm }, at-least: 3 min }",
  );
  const SPEED = "engine/port/speed";

  test("is told as it is at that moment, whatever has come since the state began", () => {
    const boat = new HandMadeBoat(fast).at(0, { [SPEED]: 900 }).at(10, { [SPEED]: 2500 });
    for (let second = 11; second < 200; second++) boat.at(second, { [SPEED]: 2500 + second });
    boat.answer(250, "it", "port", 1);
    boat.at(300, { [SPEED]: 2000 });
    expect(boat.story).toEqual([
      "190 it port unacknowledged",
      "250 it port acknowledged",
      "300 it port normal",
    ]);
    expect(boat.changes.map(({ value }) => value)).toEqual([180, 240, 0]);
    expect(boat.changes.map(({ explanation }) => explanation?.value)).toEqual([180, 240, 0]);
  });

  test("has its room at that moment", () => {
    const boat = new HandMadeBoat(fast).at(0, { [SPEED]: 2500 }).at(30, { [SPEED]: 2600 });
    expect(boat.alarms.roomLeft(micros(90))).toMatchObject([{ value: 90, room: 0.5 }]);
  });
});

describe("room left of a figure", () => {
  test("is a share of its limit", () => {
    const text = oneRule("bilge", "count: { starts-of: pump, within: 1 h, at-least: 4 }");
    const boat = new HandMadeBoat(text).at(0, { [PUMP]: "off" }).at(10, { [PUMP]: "on" });
    expect(boat.alarms.roomLeft(0)).toMatchObject([
      { value: 1, setpoint: 4, side: "high", room: 0.75, reason: "" },
    ]);
  });
});
