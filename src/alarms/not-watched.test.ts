import { describe, expect, test } from "vitest";
import { boatWith, HandMadeBoat, micros } from "../../tests/support/hand-made-boat.ts";
import type { Network } from "../boat/boat.ts";

const OIL = "engine/port/oil-pressure";
const CONDITION = "engine/port/condition";

const RULES = `
alarms:
  - { tag: oil-low, title: Low oil pressure, each: engine, priority: alarm,
      low: { signal: oil-pressure, setpoint: 10 psi },
      watch-while: { signal: condition, one-of: [idling, running], held: 10 s } }
  - { tag: level, title: Level, each: tank, priority: warning,
      low: { signal: level, setpoint: 5 % } }
  - { tag: float, title: Float, each: bilge, priority: emergency-alarm,
      reads: { signal: float, one-of: [on] } }
`;

const HELM: Network = {
  name: "main",
  bus: "can0",
  speaks: "nmea2000",
  powered: "with-helm",
  bitRate: 250_000,
};

const CAUTION = "not-watched oil-low--port";

describe("a rule of alarm or above that should watch", () => {
  test("and is unknown for 60 s is a caution, once, until it has been known again", () => {
    const boat = new HandMadeBoat(RULES)
      .at(0, { [CONDITION]: "running", [OIL]: "not available" }).until(3600)
      .at(4000, { [CONDITION]: "stopped" })
      .at(90_000, { [CONDITION]: "running" }).until(100_000);
    expect(boat.story).toEqual([`70 ${CAUTION} acknowledged`]);
    expect(boat.changes[0]).toMatchObject({
      priority: "caution",
      why: "It cannot be judged: engine/port/oil-pressure is sent as not available for 1 min.",
    });
    boat.at(100_001, { [OIL]: 300_000 }).at(100_100, { [OIL]: "not available" }).until(100_200);
    expect(boat.story.slice(1)).toEqual([
      `100001 ${CAUTION} normal`,
      `100160 ${CAUTION} acknowledged`,
    ]);
  });

  test("is one whose condition is not known while its engine is not known to be stopped", () => {
    const boat = new HandMadeBoat(RULES)
      .at(0, { [CONDITION]: "running", [OIL]: 300_000 })
      .at(10, { [CONDITION]: "not available" }).until(100);
    expect(boat.story).toEqual([`70 ${CAUTION} acknowledged`]);
  });

  test("is none whose engine is stopped, or presumed to be", () => {
    for (const word of ["stopped", "stopped-presumed"]) {
      const boat = new HandMadeBoat(RULES)
        .at(0, { [CONDITION]: word, [OIL]: "not heard" }).until(100_000);
      expect(boat.story).toEqual([]);
    }
  });

  test("is none whose signals nothing aboard has sent: that is listed", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [CONDITION]: "running" }).until(3600);
    expect(boat.story).toEqual([]);
    expect(boat.alarms.notWatched()).toMatchObject([
      { tag: "oil-low", reason: "nothing sends engine/port/oil-pressure" },
      { tag: "level" },
      { tag: "float" },
    ]);
  });

  test("is none after a restart with the key off, when the engine has not been heard", () => {
    const boat = new HandMadeBoat(RULES, boatWith([{ group: "engine", name: "port" }]))
      .at(0, { "tank/fuel/level": 50 }).until(100_000);
    expect(boat.story).toEqual([]);
  });

  test("is none on a network that is turned off with the helm", () => {
    const FLOAT = "bilge/aft/float";
    const described = {
      ...boatWith([{ group: "bilge", name: "aft" }]),
      networks: [HELM],
    };
    const off = new HandMadeBoat(RULES, described)
      .at(0, { [FLOAT]: "off", "network/main/frames": 400 })
      .at(10, { [FLOAT]: "not heard", "network/main/frames": 0 }).until(100_000);
    expect(off.story).toEqual([]);
    const on = new HandMadeBoat(RULES, described)
      .at(0, { [FLOAT]: "off", "network/main/frames": 400 })
      .at(10, { [FLOAT]: "not heard" }).until(100_000);
    expect(on.story).toEqual(["70 not-watched float--aft acknowledged"]);
  });

  test("says so no more than once over a restart", () => {
    const said = { [CONDITION]: "running", [OIL]: "not available" };
    const boat = new HandMadeBoat(RULES).at(0, said).until(3600);
    const described = boatWith([{ group: "engine", name: "port" }]);
    const after = new HandMadeBoat(RULES, described, boat.alarms.memory(micros(3600)))
      .at(5000, said).until(9000);
    expect(after.story).toEqual([]);
    expect(after.alarms.statuses().find(({ tag }) => tag === "not-watched")?.state)
      .toBe("acknowledged");
  });
});

test("a warning that cannot be judged is only listed", () => {
  const boat = new HandMadeBoat(RULES).at(0, { "tank/fuel/level": "not available" }).until(3600);
  expect(boat.story).toEqual([]);
  expect(boat.alarms.notWatched()).toContainEqual({
    tag: "level",
    subject: "fuel",
    title: "Level",
    reason: "tank/fuel/level is sent as not available",
  });
});
