import { describe, expect, test } from "vitest";
import { boatWith, HandMadeBoat } from "../../tests/support/hand-made-boat.ts";
import { oneRule } from "../../tests/support/one-rule.ts";

const SPEED = "engine/port/speed";
const CHARGER = "charger/shore/operating-state";

describe("reads", () => {
  const text = oneRule(
    "charger",
    "reads: { signal: operating-state, one-of: [fault] }",
    "on-delay: 60 s",
  );

  test("is active while the signal reads the word", () => {
    const boat = new HandMadeBoat(text).at(0, { [CHARGER]: "fault" }).until(60)
      .at(70, { [CHARGER]: "float" });
    expect(boat.story).toEqual([
      "60 it shore unacknowledged",
      "70 it shore returned-unacknowledged",
    ]);
    expect(boat.changes[0]).toMatchObject({ value: "fault", setpoint: null, unit: "" });
    expect(boat.changes[0].why).toBe("Shore operating state read fault for 1 min.");
  });

  test("takes a switch by any of its words", () => {
    for (const word of ["on", "yes", "true"]) {
      const switched = oneRule("bilge", `reads: { signal: float, one-of: [${word}] }`);
      const boat = new HandMadeBoat(switched).at(0, { "bilge/aft/float": "on" });
      expect(boat.story).toEqual(["0 it aft unacknowledged"]);
    }
  });
});

describe("bit-pattern", () => {
  const LOW = "engine/port/status/low-oil-pressure";
  const CHECK = "engine/port/status/check-engine";

  test("of one signal is active while the bit is set", () => {
    const text = oneRule("engine", "bit-pattern: { signal: status/low-oil-pressure }");
    const boat = new HandMadeBoat(text).at(0, { [LOW]: 0 }).at(1, { [LOW]: 1 });
    expect(boat.story).toEqual(["1 it port unacknowledged"]);
    expect(boat.alarms.statuses()[0].message).toBe("port low oil pressure on");
  });

  test("of several is active while all stand as written, and known where one stands otherwise", () => {
    const bits = "{ status/low-oil-pressure: on, status/check-engine: off }";
    const text = oneRule("engine", `bit-pattern: { bits: ${bits} }`);
    const boat = new HandMadeBoat(text)
      .at(0, { [LOW]: 1, [CHECK]: 1 })
      .at(1, { [CHECK]: 0 })
      .at(2, { [LOW]: "not available" })
      .at(3, { [CHECK]: 1 });
    expect(boat.story).toEqual(["1 it port unacknowledged", "3 it port returned-unacknowledged"]);
  });
});

describe("not-heard", () => {
  const text = oneRule("engine", "not-heard: { signal: speed }", "on-delay: 5 s");

  test("is due at the last message plus its on-delay", () => {
    const boat = new HandMadeBoat(text).at(0, { [SPEED]: 2000 }).at(2, { [SPEED]: 2000 })
      .at(3, { [SPEED]: "not heard" }).until(60);
    expect(boat.story).toEqual(["7 it port unacknowledged"]);
    expect(boat.changes[0]).toMatchObject({ value: null, setpoint: null });
    expect(boat.changes[0].why).toBe("Port engine speed was last heard 5 s before.");
  });

  test("is due at the old age where that is longer", () => {
    const prompt = oneRule("engine", "not-heard: { signal: speed }");
    const boat = new HandMadeBoat(prompt).at(0, { [SPEED]: 2000 })
      .at(1, { [SPEED]: "not heard" });
    expect(boat.story).toEqual(["1 it port unacknowledged"]);
  });

  test("is not active for a device that talks and sends nothing", () => {
    const boat = new HandMadeBoat(text).at(0, { [SPEED]: "not available" }).until(60);
    expect(boat.story).toEqual([]);
  });

  test("is not judged for what was never heard, and says so", () => {
    const boat = new HandMadeBoat(text, boatWith([{ group: "engine", name: "port" }])).at(0, {})
      .until(60);
    expect(boat.story).toEqual([]);
    expect(boat.alarms.notWatched()).toEqual([
      { tag: "it", subject: "port", title: "It", reason: "nothing sends engine/port/speed" },
    ]);
  });

  test("watches by what was last known, since absence is what it waits for", () => {
    const guarded = oneRule(
      "engine",
      "not-heard: { signal: speed }",
      "on-delay: 5 s\n    watch-while: { signal: speed, over: 1200 rpm }",
    );
    const fast = new HandMadeBoat(guarded).at(0, { [SPEED]: 3000 })
      .at(1, { [SPEED]: "not heard" }).until(60);
    expect(fast.story).toEqual(["5 it port unacknowledged"]);
    const slow = new HandMadeBoat(guarded).at(0, { [SPEED]: 650 })
      .at(1, { [SPEED]: "not heard" }).until(60);
    expect(slow.story).toEqual([]);
  });
});

describe("a signal of another subject", () => {
  test("is found by its whole name", () => {
    const text = oneRule(
      "engine",
      "low: { signal: oil-pressure, setpoint: 10 psi }",
      "watch-while: { signal: battery/start/voltage, over: 10 V }",
    );
    const boat = new HandMadeBoat(text)
      .at(0, { "engine/port/oil-pressure": 0, "battery/start/voltage": 8 })
      .at(1, { "battery/start/voltage": 12 });
    expect(boat.story).toEqual(["1 it port unacknowledged"]);
  });

  test("is found by a relation of the boat file", () => {
    const text = oneRule(
      "charger",
      "low: { signal: voltage, of: battery, setpoint: 12.9 V per 12 V }",
      "watch-while: { signal: operating-state, one-of: [float] }",
    );
    const described = boatWith([
      { group: "charger", name: "shore", relations: { battery: "house" } },
      { group: "charger", name: "spare" },
      { group: "battery", name: "house", numbers: { nominal: 24 } },
    ]);
    const boat = new HandMadeBoat(text, described)
      .at(0, { [CHARGER]: "float", "battery/house/voltage": 25, "battery/start/voltage": 11 });
    expect(boat.story).toEqual(["0 it shore unacknowledged"]);
    expect(boat.changes[0].signal).toBe("battery/house/voltage");
    expect(boat.alarms.notWatched().map(({ reason }) => reason)).toEqual([
      "the boat file relates no battery to charger spare",
    ]);
  });

  test("makes a rule without subjects an alarm of the boat", () => {
    const text = `
alarms:
  - { tag: shallow, title: Shallow, priority: alarm,
      low: { signal: sounder/main/depth, setpoint: 2 m } }
`;
    const boat = new HandMadeBoat(text).at(0, { "sounder/main/depth": 1.5 });
    expect(boat.story).toEqual(["0 shallow boat unacknowledged"]);
  });
});

describe("each", () => {
  const text = oneRule("engine", "high: { signal: coolant-temperature, setpoint: 95 °C }");

  test("takes subjects as they are heard, and keeps the state of those before", () => {
    const boat = new HandMadeBoat(text)
      .at(0, { "engine/port/coolant-temperature": 99 })
      .at(1, { "engine/starboard/coolant-temperature": 99 })
      .at(2, { "engine/port/coolant-temperature": 98 });
    expect(boat.story).toEqual(["0 it port unacknowledged", "1 it starboard unacknowledged"]);
  });

  test("takes a signal that comes later than its subject", () => {
    const boat = new HandMadeBoat(text)
      .at(0, { [SPEED]: 2000 })
      .at(1, { "engine/port/coolant-temperature": 99 });
    expect(boat.story).toEqual(["1 it port unacknowledged"]);
  });

  test("is narrowed by where and only", () => {
    const described = boatWith(
      ["port", "starboard", "wing"].map((name) => ({
        group: "engine",
        name,
        words: { fuel: name === "wing" ? "petrol" : "diesel" },
      })),
    );
    const hot = Object.fromEntries(
      ["port", "starboard", "wing"].map((name) => [`engine/${name}/coolant-temperature`, 99]),
    );
    const where = oneRule(
      "engine\n    where: { fuel: diesel }",
      "high: { signal: coolant-temperature, setpoint: 95 °C }",
    );
    expect(new HandMadeBoat(where, described).at(0, hot).story).toEqual([
      "0 it port unacknowledged",
      "0 it starboard unacknowledged",
    ]);
    const only = where.replace("where: { fuel: diesel }", "only: [wing]");
    expect(new HandMadeBoat(only, described).at(0, hot).story).toEqual([
      "0 it wing unacknowledged",
    ]);
  });

  test("keeps the delays that run when another engine is heard for the first time", () => {
    const slow = oneRule(
      "engine",
      "low: { signal: oil-pressure, setpoint: 10 psi }",
      "on-delay: 3 s\n    watch-while: { signal: speed, over: 500 rpm, held: 10 s }",
    );
    const boat = new HandMadeBoat(slow)
      .at(0, { [SPEED]: 2000, "engine/port/oil-pressure": 0 })
      .at(5, { "engine/starboard/speed": 2000 })
      .at(11, { "engine/wing/speed": 2000 })
      .until(60);
    expect(boat.story).toEqual(["13 it port unacknowledged"]);
  });

  test("takes the subjects that are heard within a tenth of a second together", () => {
    const hot = { "engine/port/coolant-temperature": 400 };
    const boat = new HandMadeBoat(
      oneRule("engine", "high: { signal: coolant-temperature, setpoint: 95 °C }"),
    ).at(0, hot);
    const subjects = () => boat.alarms.list.map(({ subject }) => subject);
    boat.at(0.02, { "engine/starboard/coolant-temperature": 400 });
    boat.at(0.09, { "engine/wing/coolant-temperature": 400 });
    expect(subjects()).toEqual(["port"]);
    boat.until(0.1);
    expect(subjects()).toEqual(["port", "starboard", "wing"]);
    boat.at(0.3, { "engine/spare/coolant-temperature": 400 });
    expect(boat.story).toEqual([
      "0 it port unacknowledged",
      "0.1 it starboard unacknowledged",
      "0.1 it wing unacknowledged",
      "0.3 it spare unacknowledged",
    ]);
  });
});
