import { describe, expect, test } from "vitest";
import { boatWith, HandMadeBoat, micros } from "../../tests/support/hand-made-boat.ts";
import { HOUR, SECOND } from "../ground/time.ts";
import type { Answer } from "./answer.ts";

const VOLTS = "battery/house/voltage";
const WARMTH = "battery/house/temperature";

const RULES = `
alarms:
  - { tag: volts-high, title: High, each: battery, priority: warning, longest-shelving: 8 h,
      alarm-when-unanswered: 10 min, re-alarm: 1 h,
      high: { signal: voltage, setpoint: 15 V } }
  - { tag: hot, title: Hot, each: battery, priority: alarm, latching: yes,
      high: { signal: temperature, setpoint: 50 °C } }
  - { tag: float, title: Float, each: bilge, priority: emergency-alarm,
      reads: { signal: float, one-of: [on] } }
`;

const NAME = { tag: "volts-high", subject: "house", who: "Ann" } as const;
const FLOAT = { tag: "float", subject: "aft", who: "Ann", occurrence: 0 } as const;

const high = () => new HandMadeBoat(RULES).at(0, { [VOLTS]: 16, "bilge/aft/float": "off" });

function refusal(boat: HandMadeBoat, answer: Answer, isAfar = false): string {
  const outcome = boat.person(10, answer, isAfar);
  return outcome.accepted ? "" : outcome.refused;
}

/** State and hold of the first alarm of a tag. */
function stands(boat: HandMadeBoat, tag = "volts-high") {
  const status = boat.alarms.statuses().find((one) => one.tag === tag);
  return [status?.state, status?.hold, status?.occurrence];
}

function heldUntil(boat: HandMadeBoat) {
  return boat.alarms.statuses().find(({ tag }) => tag === "volts-high")?.heldUntil;
}

describe("a shelved alarm", () => {
  const shelve = { ...NAME, kind: "shelve", length: HOUR } as const;

  test("moves and nobody is told, until its time is over and its condition is there", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 13 });
    boat.person(1, { ...shelve, occurrence: 0, why: "works on the charger" });
    expect(boat.changes).toMatchObject([
      { from: "normal", to: "normal", hold: "shelved", by: "Ann" },
    ]);
    expect(boat.changes[0].why).toBe("Shelved for 1 h by Ann: works on the charger.");
    boat.at(60, { [VOLTS]: 16 }).until(3600);
    expect(stands(boat)).toEqual(["unacknowledged", "shelved", 1]);
    expect(heldUntil(boat)).toBe(micros(3601));
    expect(boat.changes).toHaveLength(1);
    boat.until(3601);
    expect(boat.changes.at(-1)).toMatchObject({
      from: "unacknowledged",
      to: "unacknowledged",
      hold: "none",
      occurrence: 1,
      time: micros(3601),
    });
    expect(heldUntil(boat)).toBeUndefined();
  });

  test("comes back over a condition that is gone without a word", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 13 });
    boat.person(1, { ...shelve, occurrence: 0 });
    boat.person(2, { ...NAME, kind: "unshelve", occurrence: 0 });
    expect(stands(boat)).toEqual(["normal", "none", 0]);
    expect(boat.changes.at(-1)?.why).toBe("Taken off the shelf by Ann.");
  });

  test("was not raised by being put aside", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [VOLTS]: 13 });
    boat.person(1, { ...shelve, occurrence: 0 });
    const raised = () => boat.alarms.statuses().find(({ tag }) => tag === "volts-high")?.raised;
    expect(raised()).toBeNull();
    boat.at(60, { [VOLTS]: 16 }).until(70);
    expect(raised()).toBe(micros(60));
  });

  test("is shelved for no longer than its rule allows", () => {
    const long = { ...shelve, occurrence: 1, length: 8 * HOUR + SECOND };
    expect(refusal(high(), long)).toBe("It can be shelved for 8 h at most.");
    expect(refusal(high(), { ...long, length: 8 * HOUR })).toBe("");
    expect(refusal(high(), { ...long, length: 0 })).toBe("It can only be shelved for some time.");
  });

  test("is of the raising that the person saw", () => {
    expect(refusal(high(), { ...shelve, occurrence: 0 }))
      .toBe("It has been raised meanwhile.");
    expect(refusal(high(), { ...NAME, kind: "unshelve", occurrence: 1 }))
      .toBe("This alarm is not shelved.");
  });

  test("is never an emergency alarm that someone puts aside from afar", () => {
    const emergency = { ...FLOAT, kind: "shelve", length: HOUR } as const;
    expect(refusal(high(), emergency, true)).toBe("An emergency alarm can be shelved only aboard.");
    expect(refusal(high(), emergency)).toBe("");
    const away = { ...FLOAT, kind: "out-of-service", length: HOUR } as const;
    expect(refusal(high(), away, true))
      .toBe("An emergency alarm can be taken out of service only aboard.");
    const boat = high().at(1, { "bilge/aft/float": "on" });
    expect(refusal(boat, { ...FLOAT, kind: "acknowledge", occurrence: 1 }, true)).toBe("");
  });
});

describe("an alarm out of service", () => {
  const out = { ...NAME, kind: "out-of-service", occurrence: 1, length: 30 * 24 * HOUR } as const;

  test("comes back at its return date, or when a person says so", () => {
    const boat = high();
    boat.person(1, out);
    expect(stands(boat)).toEqual(["unacknowledged", "out-of-service", 1]);
    expect(refusal(boat, { ...out, kind: "shelve", length: HOUR }))
      .toBe("This alarm is out of service already.");
    boat.until(30 * 24 * 3600 + 1);
    expect(stands(boat)).toEqual(["unacknowledged", "none", 1]);
    const other = high();
    other.person(1, out);
    other.person(2, { ...NAME, kind: "return-to-service", occurrence: 1 });
    expect(other.changes.at(-1)).toMatchObject({ to: "unacknowledged", hold: "none", by: "Ann" });
  });
});

describe("an alarm that latches", () => {
  test("stays when its condition has gone until it is acknowledged and reset", () => {
    const hot = { ...NAME, tag: "hot", occurrence: 1 } as const;
    const reset = { ...hot, kind: "reset" } as const;
    const boat = new HandMadeBoat(RULES).at(0, { [WARMTH]: 60 });
    expect(refusal(boat, reset)).toBe(
      "It is still present: it can be reset when its condition has gone.",
    );
    boat.at(20, { [WARMTH]: 40 });
    expect(stands(boat, "hot")).toEqual(["latched-unacknowledged", "none", 1]);
    expect(refusal(boat, reset)).toBe("It must be answered before it can be reset.");
    boat.person(30, { ...hot, kind: "acknowledge" });
    boat.person(40, reset);
    expect(boat.story).toEqual([
      "0 hot house unacknowledged",
      "20 hot house latched-unacknowledged",
      "30 hot house latched-acknowledged",
      "40 hot house normal",
    ]);
  });
});

describe("a warning", () => {
  test("that nobody answers is an alarm after the time of its rule, as an event of its own", () => {
    const boat = high().until(600);
    expect(boat.changes.at(-1)).toMatchObject({
      from: "unacknowledged",
      to: "unacknowledged",
      priority: "alarm",
      occurrence: 1,
      why: "Nobody answered for 10 min.",
    });
    expect(boat.alarms.statuses()[0].priority).toBe("alarm");
    boat.at(700, { [VOLTS]: 13 });
    boat.answer(710, "volts-high", "house", 1);
    boat.at(720, { [VOLTS]: 16 });
    expect(boat.changes.at(-1)?.priority).toBe("warning");
  });

  test("that was answered and is still there asks again", () => {
    const boat = high();
    boat.answer(60, "volts-high", "house", 1);
    boat.until(3660);
    expect(boat.changes.at(-1)).toMatchObject({
      from: "acknowledged",
      to: "unacknowledged",
      occurrence: 1,
      time: micros(3660),
      why: "It was answered 1 h ago and is still there.",
    });
  });
});

describe("what is left of a hold, of patience and of counts", () => {
  const described = boatWith([{ group: "battery", name: "house" }, {
    group: "bilge",
    name: "aft",
  }]);

  function restarted(boat: HandMadeBoat, stopped: number): HandMadeBoat {
    return new HandMadeBoat(RULES, described, boat.alarms.memory(micros(stopped)));
  }

  test("goes on after a restart, whatever the clock says then", () => {
    const shelved = high();
    shelved.person(0, { ...NAME, kind: "shelve", occurrence: 1, length: HOUR });
    // The computer was off for a long time, and its clock began again.
    const after = restarted(shelved, 1200).at(5, { [VOLTS]: 16 });
    expect(stands(after)).toEqual(["unacknowledged", "shelved", 1]);
    expect(after.until(5 + 2400 - 1).changes).toEqual([]);
    expect(after.until(5 + 2400).story).toEqual(["2405 volts-high house unacknowledged"]);

    const patient = restarted(high(), 400).at(5, { [VOLTS]: 16 }).until(5 + 200);
    expect(patient.changes.map(({ priority, time }) => [priority, time]))
      .toEqual([["alarm", micros(205)]]);
    expect(restarted(patient, 300).alarms.statuses()[0].priority).toBe("alarm");
  });

  test("of starts that were counted too", () => {
    const often = `
alarms:
  - { tag: often, title: Often, each: bilge, priority: warning,
      count: { starts-of: pump, within: 1 h, at-least: 3 } }
  - { tag: long, title: Long, each: bilge, priority: warning,
      running-time: { while: pump, within: 1 h, at-least: 3 min } }
`;
    const PUMP = "bilge/aft/pump";
    const boat = new HandMadeBoat(often, described);
    for (const start of [100, 200]) {
      boat.at(start - 1, { [PUMP]: "off" }).at(start, { [PUMP]: "on" });
      boat.at(start + 80, { [PUMP]: "off" });
    }
    const memory = boat.alarms.memory(micros(300));
    const after = new HandMadeBoat(often, described, memory)
      .at(0, { [PUMP]: "off" }).at(10, { [PUMP]: "on" }).until(30);
    expect(after.story).toEqual([
      "10 often aft unacknowledged",
      "30 long aft unacknowledged",
    ]);
  });
});

describe("suppressed-while", () => {
  const text = RULES.replace(
    "latching: yes,",
    "on-delay: 10 s, suppressed-while: { signal: current, under: 1 A },",
  );
  const CURRENT = "battery/house/current";

  test("holds back an alarm that is normal, and its delay begins anew", () => {
    const boat = new HandMadeBoat(text).at(0, { [WARMTH]: 60, [CURRENT]: 0 }).until(100);
    expect(stands(boat, "hot")).toEqual(["normal", "suppressed-by-design", 0]);
    boat.at(100, { [CURRENT]: 5 });
    expect(stands(boat, "hot")).toEqual(["normal", "none", 0]);
    boat.until(110);
    expect(stands(boat, "hot")).toEqual(["unacknowledged", "none", 1]);
  });

  test("tells nobody that it begins or ends, and lets it be kept all the same", () => {
    const boat = new HandMadeBoat(text).at(0, { [WARMTH]: 20, [CURRENT]: 5 });
    boat.alarms.dirtyRecords(micros(0));
    boat.at(10, { [CURRENT]: 0 });
    expect(boat.alarms.hasUnkept).toBe(true);
    boat.at(20, { [CURRENT]: 5 });
    expect(boat.story).toEqual([]);
    expect(boat.alarms.dirtyRecords(micros(20))).toMatchObject([{ tag: "hot", hold: null }]);
    expect(boat.alarms.hasUnkept).toBe(false);
  });

  test("leaves one that was raised, and prevents the next", () => {
    const boat = new HandMadeBoat(text)
      .at(0, { [WARMTH]: 60, [CURRENT]: 5 }).until(10)
      .at(20, { [CURRENT]: 0 })
      .at(30, { [WARMTH]: 40 }).at(40, { [WARMTH]: 60 }).until(100);
    expect(stands(boat, "hot")).toEqual(["returned-unacknowledged", "none", 1]);
    boat.answer(110, "hot", "house", 1);
    boat.at(111, { [CURRENT]: 0.5 });
    expect(stands(boat, "hot")).toEqual(["normal", "suppressed-by-design", 1]);
  });

  test("that is not known suppresses nothing", () => {
    const boat = new HandMadeBoat(text)
      .at(0, { [WARMTH]: 60, [CURRENT]: "not available" }).until(10);
    expect(boat.story).toEqual(["10 hot house unacknowledged"]);
  });
});
