import { describe, expect, test } from "vitest";
import { boatWith, HandMadeBoat } from "../../tests/support/hand-made-boat.ts";

const PSI = 6894.757293168362;
const SPEED = "engine/port/speed";
const OIL = "engine/port/oil-pressure";
const CONDITION = "engine/port/condition";

const RULES = `
alarms:
  - tag: oil-low
    title: Low oil pressure
    each: engine
    low:
      signal: oil-pressure
      setpoint: { along: speed, lowest-of: 3 s, curve: { 700 rpm: 10 psi, 2600 rpm: 30 psi } }
      deadband: 2 psi
    watch-while: { signal: condition, one-of: [idling, running], held: 10 s }
    on-delay: 3 s
    off-delay: 10 s
    priority: alarm
  - tag: oil-switch
    title: Engine reports low oil pressure
    each: engine
    bit-pattern: { signal: status/low-oil-pressure }
    watch-while: { signal: condition, one-of: [idling, running], held: 10 s }
    on-delay: 2 s
    off-delay: 10 s
    priority: alarm
  - tag: over-speed
    title: Over its rated speed
    each: engine
    high: { signal: speed, setpoint: 2700 rpm }
    on-delay: 1 s
    priority: alarm
  - tag: sender-lost
    title: Engine no longer heard
    each: engine
    not-heard: { signal: speed }
    watch-while: { signal: speed, over: 1200 rpm }
    on-delay: 5 s
    off-delay: 10 s
    priority: warning
`;

/** An engine that has run for a minute at a speed, all well. */
function running(speed: number, oil = 40 * PSI): HandMadeBoat {
  return new HandMadeBoat(RULES)
    .at(0, { [SPEED]: speed, [OIL]: oil, [CONDITION]: "running" })
    .at(60, { [SPEED]: speed, [OIL]: oil });
}

/** What the boat's own floor says when a gateway dies: old after 1 s, presumed stopped later. */
function gatewayDies(boat: HandMadeBoat, last: number, presumed: number): HandMadeBoat {
  return boat
    .at(last + 1, { [SPEED]: "not heard", [OIL]: "not heard", [CONDITION]: "not heard" })
    .at(presumed, { [CONDITION]: "stopped-presumed" });
}

describe("situation 1: two engine gateways at one instance", () => {
  test("one caution that names both, no over-speed, no low oil", () => {
    const boat = new HandMadeBoat(RULES)
      .at(0, { "engine/0/speed": 700, "engine/0/oil-pressure": 5 * PSI })
      .at(0.05, {
        "engine/0/speed": "two senders",
        "engine/0/oil-pressure": "two senders",
        "engine/0/condition": "two senders",
        "engine/0/two-senders": 1,
      })
      .until(600);
    expect(boat.story).toEqual(["0.1 two-senders engine-0 acknowledged"]);
    expect(boat.changes[0].priority).toBe("caution");
    expect(boat.changes[0].why).toBe(
      "Engine 0 is sent by address 3 and address 7; nothing is judged from it.",
    );
    boat.at(700, { "engine/0/two-senders": 0 });
    expect(boat.story.at(-1)).toBe("700 two-senders engine-0 normal");
  });
});

describe("situation 2: the key is turned off", () => {
  test("at idle, and the gateway dies: no alarm", () => {
    expect(gatewayDies(running(650), 60, 63).until(3600).story).toEqual([]);
  });

  test("at idle, and the gateway goes on with nothing to say: no alarm", () => {
    const boat = running(650)
      .at(60.1, {
        [SPEED]: "not available",
        [OIL]: "not available",
        [CONDITION]: "not available",
      })
      .at(63, { [CONDITION]: "stopped-presumed" }).until(3600);
    expect(boat.story).toEqual([]);
  });

  test("and oil pressure falls with the speed: no alarm", () => {
    const boat = running(650)
      .at(60.5, { [SPEED]: 300 })
      .at(61, { [SPEED]: 0, [CONDITION]: "stopped" })
      .at(61.5, { [OIL]: 0 }).until(3600);
    expect(boat.story).toEqual([]);
  });

  test("at 3,000 rpm it is no key but a sender: a warning after 5 s", () => {
    const boat = new HandMadeBoat(RULES.replace("2700 rpm", "4000 rpm"))
      .at(0, { [SPEED]: 3000, [CONDITION]: "running" }).at(60, { [SPEED]: 3000 });
    expect(gatewayDies(boat, 60, 120.9).until(3600).story).toEqual([
      "65 sender-lost port unacknowledged",
    ]);
  });
});

describe("situation 4: status words", () => {
  const BIT = "engine/port/status/low-oil-pressure";

  test("of all ones are not available: no alarm of theirs, and it is said once that nobody watches", () => {
    const boat = running(2000).at(61, { [BIT]: "not available" }).until(3600);
    expect(boat.story).toEqual(["121 not-watched oil-switch--port acknowledged"]);
    expect(boat.alarms.notWatched()).toMatchObject([{ tag: "oil-switch" }]);
  });

  test("with the bit set raise, and with the bit gone return", () => {
    const boat = running(2000).at(61, { [BIT]: 0 }).at(70, { [BIT]: 1 }).at(80, { [BIT]: 0 })
      .until(3600);
    expect(boat.story).toEqual([
      "72 oil-switch port unacknowledged",
      "90 oil-switch port returned-unacknowledged",
    ]);
  });
});

describe("situation 6: real oil loss, then everything goes dark", () => {
  test("raised after 3 s, told once, and kept over stop, silence and restart until answered", () => {
    const boat = running(2000).at(60.5, { [OIL]: 3 * PSI });
    boat.at(66.5, { [SPEED]: 400, [CONDITION]: "stopped" });
    gatewayDies(boat, 67, 70).until(600);
    expect(boat.story).toEqual([
      "63.5 oil-low port unacknowledged",
      // The off-delay began at 66.5 s, and again when the engine was presumed stopped.
      "80 oil-low port returned-unacknowledged",
    ]);

    const memory: unknown = JSON.parse(JSON.stringify(boat.alarms.memory(0)));
    const restarted = new HandMadeBoat(RULES, boatWith([]), boat.alarms.memory(0));
    expect(restarted.alarms.memory(0)).toEqual(memory);
    restarted.at(700, {}).until(4000);
    expect(restarted.story).toEqual([]);
    expect(restarted.alarms.statuses()).toMatchObject([{
      tag: "oil-low",
      subject: "port",
      state: "returned-unacknowledged",
      occurrence: 1,
      message: "port oil pressure 3 psi at 2,000 rpm, limit 24 psi",
    }]);
    expect(restarted.answer(5000, "oil-low", "port", 1)).toEqual({ accepted: true });
    expect(restarted.alarms.statuses()[0].state).toBe("normal");
  });
});
