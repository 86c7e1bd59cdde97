import fc from "fast-check";
import { expect, test } from "vitest";
import { HandMadeBoat, rulesOf, type Said } from "../../tests/support/hand-made-boat.ts";

const SPEED = "engine/port/speed";
const OIL = "engine/port/oil-pressure";
const VOLTS = "battery/start/voltage";
const CHARGER = "charger/start/operating-state";

/** Every kind of limit, so that signals have several of them, or one that moves, or none. */
const RULES = `
alarms:
  - tag: oil-low
    title: Low oil pressure
    each: engine
    low:
      signal: oil-pressure
      setpoint: { along: speed, lowest-of: 3 s, curve: { 700 rpm: 100 kPa, 2600 rpm: 200 kPa } }
      deadband: 10 kPa
    watch-while: { signal: speed, over: 500 rpm, held: 2 s }
    on-delay: 3 s
    off-delay: 5 s
    priority: alarm
  - tag: over-speed
    title: Over its rated speed
    each: engine
    high: { signal: speed, setpoint: 2600 rpm, deadband: 100 rpm }
    on-delay: 1 s
    priority: alarm
  - tag: speed-lost
    title: Engine no longer heard
    each: engine
    not-heard: { signal: speed }
    on-delay: 5 s
    priority: warning
  - tag: volts-low
    title: Low volts
    each: battery
    low: { signal: voltage, setpoint: 12.2 V, deadband: 0.2 V }
    suppressed-while: { signal: engine/port/speed, over: 1000 rpm }
    on-delay: 2 s
    off-delay: 4 s
    priority: warning
  - tag: volts-very-low
    title: Very low volts
    each: battery
    low: { signal: voltage, setpoint: 11.8 V }
    on-delay: 1 s
    priority: alarm
    covers: [volts-low]
  - tag: volts-high
    title: High volts
    each: battery
    high: { signal: voltage, setpoint: 14.8 V, deadband: 0.2 V }
    on-delay: 1 s
    priority: alarm
  - tag: volts-fall
    title: Volts fall
    each: battery
    rate-of-change: { signal: voltage, fall: 1 V, within: 10 s }
    on-delay: 1 s
    priority: caution
  - tag: volts-at-speed
    title: The alternator does not charge
    each: battery
    low: { signal: voltage, setpoint: 13 V }
    watch-while:
      any:
        - { signal: engine/port/speed, over: 1000 rpm }
        - { signal: charger/start/operating-state, one-of: [bulk] }
    on-delay: 4 s
    priority: warning
  - tag: dips
    title: Volts dip often
    each: battery
    count: { starts-of: { signal: voltage, under: 12.4 V }, within: 1 min, at-least: 3 }
    priority: caution
`;

const ALL = rulesOf(RULES);
/** Without those that must see every value of the volts. */
const LIMITS = ALL.filter(({ tag }) => tag !== "volts-fall" && tag !== "dips");

/** Values beside limits, on them, in deadbands and far away; and all ways of not being known. */
const message: fc.Arbitrary<Said> = fc.record({
  [SPEED]: known(0, 400, 700, 999, 1000, 1001, 2000, 2490, 2500, 2550, 2600, 2601, 3000),
  [OIL]: known(0, 90_000, 105_000, 150_000, 190_000, 205_000, 400_000),
  [VOLTS]: known(11.7, 11.8, 12.1, 12.2, 12.3, 12.4, 12.5, 12.9, 13.1, 14.5, 14.7, 14.8, 14.9),
  [CHARGER]: fc.constantFrom("bulk", "float", "not available"),
}, { requiredKeys: [] });

function known(...values: number[]): fc.Arbitrary<number | string> {
  return fc.oneof(
    { weight: 12, arbitrary: fc.constantFrom(...values) },
    { weight: 1, arbitrary: fc.constantFrom("not available", "not heard", "two senders") },
  );
}

test.each([["all rules", ALL], ["limits", LIMITS]])(
  "%s: the same alarms come whether the rules see every value or only those that may matter",
  (_, rules) => {
    const step = fc.record({ wait: fc.integer({ min: 1, max: 8 }), said: message });
    fc.assert(
      fc.property(fc.array(step, { minLength: 10, maxLength: 60 }), (steps) => {
        const seesAll = new HandMadeBoat(rules);
        const seesLimits = new HandMadeBoat(rules);
        seesLimits.table.leaveOutUnheeded();
        let now = 0;
        for (const { wait, said } of steps) {
          now += wait / 2;
          seesAll.at(now, said);
          seesLimits.at(now, said);
        }
        expect(seesLimits.until(now + 100).changes).toEqual(seesAll.until(now + 100).changes);
      }),
      { numRuns: 60 },
    );
  },
);

test("what stays on one side of all its limits is not looked at again until it crosses one", () => {
  const boat = new HandMadeBoat(LIMITS);
  boat.table.leaveOutUnheeded();
  for (let i = 0; i < 5; i++) boat.at(i, { [VOLTS]: 12.6 + i / 1000 });
  const before = boat.alarms.evaluations;
  for (let i = 5; i < 100; i++) boat.at(i, { [VOLTS]: 12.6 + i / 1000 });
  expect(boat.alarms.evaluations).toBe(before);
  boat.at(100, { [VOLTS]: 11.5 }).until(110);
  expect(boat.story).toEqual(["101 volts-very-low start unacknowledged"]);
});
