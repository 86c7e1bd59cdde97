import { describe, expect, test } from "vitest";
import { HandMadeBoat } from "../../tests/support/hand-made-boat.ts";

const OIL = "engine/port/oil-pressure";
const SPEED = "engine/port/speed";
const CONDITION = "engine/port/condition";

/** psi in Pa. */
const PSI = 6894.757293168362;

const CURVE = `
alarms:
  - tag: oil-low
    title: Low oil pressure
    each: engine
    low:
      signal: oil-pressure
      setpoint: { along: speed, lowest-of: 3 s, curve: { 700 rpm: 10 psi, 1200 rpm: 15 psi } }
    on-delay: 3 s
    priority: alarm
`;

const HELD = `
alarms:
  - tag: oil-low
    title: Low oil pressure
    each: engine
    low: { signal: oil-pressure, setpoint: 10 psi, deadband: 2 psi }
    watch-while: { signal: condition, one-of: [idling, running], held: 10 s }
    on-delay: 3 s
    off-delay: 10 s
    priority: alarm
`;

describe("a limit along a curve", () => {
  test("is read at the lowest speed of the last while: pressure may come late", () => {
    const boat = new HandMadeBoat(CURVE)
      .at(0, { [SPEED]: 700, [OIL]: 12 * PSI })
      .at(1, { [SPEED]: 1200 });
    boat.until(3.9);
    expect(boat.alarms.roomLeft(0)[0].setpoint).toBeCloseTo(10 * PSI, 1);
    // The low speed leaves 3 s after it was superseded; the on-delay counts from there.
    boat.until(30);
    expect(boat.story).toEqual(["7 oil-low port unacknowledged"]);
    expect(boat.changes[0].setpoint).toBeCloseTo(15 * PSI, 1);
  });

  test("is not known while the speed is not, and raises nothing", () => {
    const boat = new HandMadeBoat(CURVE)
      .at(0, { [SPEED]: "not available", [OIL]: 0 }).until(60);
    expect(boat.story).toEqual([]);
    expect(boat.alarms.notWatched()[0].reason).toBe(
      "engine/port/speed is sent as not available",
    );
  });

  test("says the limit as judged, and where", () => {
    const boat = new HandMadeBoat(CURVE)
      .at(0, { [SPEED]: 950, [OIL]: 11 * PSI }).until(3);
    expect(boat.changes[0].setpoint).toBeCloseTo(12.5 * PSI, 1);
    expect(boat.alarms.statuses()[0].message).toBe(
      "port oil pressure 11 psi at 950 rpm, limit 13 psi",
    );
    expect(boat.changes[0].why).toBe(
      "Port oil pressure 11 psi was under its limit of 13 psi at 950 rpm for 3 s.",
    );
  });
});

describe("watch-while", () => {
  test("holds back for its own time, and the on-delay begins where it ends", () => {
    const boat = new HandMadeBoat(HELD)
      .at(0, { [CONDITION]: "stopped", [OIL]: 0 })
      .at(5, { [CONDITION]: "idling" })
      .at(6, { [CONDITION]: "running" }).until(60);
    expect(boat.story).toEqual(["18 oil-low port unacknowledged"]);
  });

  test("begins anew after a break", () => {
    const boat = new HandMadeBoat(HELD)
      .at(0, { [CONDITION]: "idling", [OIL]: 0 })
      .at(9, { [CONDITION]: "stopped" })
      .at(10, { [CONDITION]: "idling" }).until(22.9);
    expect(boat.story).toEqual([]);
    expect(boat.until(23).story).toEqual(["23 oil-low port unacknowledged"]);
  });

  test("that ends returns the alarm after its off-delay, and it stays until it is answered", () => {
    const boat = new HandMadeBoat(HELD)
      .at(0, { [CONDITION]: "running", [OIL]: 0 })
      .at(20, { [CONDITION]: "stopped" }).until(3600);
    expect(boat.story).toEqual([
      "13 oil-low port unacknowledged",
      "30 oil-low port returned-unacknowledged",
    ]);
    expect(boat.changes[1].why).toBe("The rule was no longer watching for 10 s.");
    expect(boat.answer(4000, "oil-low", "port", 1)).toEqual({ accepted: true });
    expect(boat.alarms.statuses()[0].state).toBe("normal");
  });

  test("takes all, any and not together", () => {
    const text = HELD.replace(
      "{ signal: condition, one-of: [idling, running], held: 10 s }",
      "{ all: [{ not: { signal: condition, one-of: [stopped] } }, " +
        "{ any: [{ signal: speed, over: 500 rpm }, { signal: load, under: 5 % }] }] }",
    );
    const boat = new HandMadeBoat(text)
      .at(0, { [OIL]: 0, [CONDITION]: "running", [SPEED]: 500, "engine/port/load": 5 })
      .at(10, { [SPEED]: 500.01 })
      .until(60);
    expect(boat.story).toEqual(["13 oil-low port unacknowledged"]);
  });
});

describe("what is not known", () => {
  const plain = HELD.replace(/\n.*watch-while.*/, "");

  test("freezes an on-delay, which goes on with what was left", () => {
    const boat = new HandMadeBoat(plain).at(0, { [OIL]: 0 })
      .at(2, { [OIL]: "not available" }).at(2.9, { [OIL]: 0 }).until(60);
    expect(boat.story).toEqual(["3.9 oil-low port unacknowledged"]);
  });

  test("resets an on-delay after one old age", () => {
    const boat = new HandMadeBoat(plain).at(0, { [OIL]: 0 })
      .at(2, { [OIL]: "not available" }).at(3, { [OIL]: 0 }).until(60);
    expect(boat.story).toEqual(["6 oil-low port unacknowledged"]);
  });

  test("resets an on-delay at once when it is not heard", () => {
    const boat = new HandMadeBoat(plain).at(0, { [OIL]: 0 })
      .at(2, { [OIL]: "not heard" }).at(2.1, { [OIL]: 0 }).until(60);
    expect(boat.story).toEqual(["5.1 oil-low port unacknowledged"]);
  });

  test("resets a frozen delay when it is not heard either", () => {
    const boat = new HandMadeBoat(plain).at(0, { [OIL]: 0 })
      .at(2, { [OIL]: "not available" }).at(2.5, { [OIL]: "not heard" })
      .at(2.6, { [OIL]: 0 }).until(60);
    expect(boat.story).toEqual(["5.6 oil-low port unacknowledged"]);
  });

  test("freezes an off-delay too, and returns nothing", () => {
    const boat = new HandMadeBoat(plain).at(0, { [OIL]: 0 }).at(5, { [OIL]: 20 * PSI })
      .at(10, { [OIL]: "not heard" }).until(3600);
    expect(boat.story).toEqual(["3 oil-low port unacknowledged"]);
  });

  test("is no condition either: watching stands still with it", () => {
    const boat = new HandMadeBoat(HELD)
      .at(0, { [CONDITION]: "running", [OIL]: 20 * PSI })
      .at(12, { [OIL]: 0 })
      .at(14, { [CONDITION]: "not available" })
      .at(14.5, { [CONDITION]: "running" }).until(60);
    expect(boat.story).toEqual(["15.5 oil-low port unacknowledged"]);
  });
});
