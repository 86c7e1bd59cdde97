import { describe, expect, test } from "vitest";
import { rulesOf } from "../support/hand-made-boat.ts";
import { boatFrom, packRules, scenarioRaises } from "../support/pack-rehearsal.ts";

// A shunt that speaks once in 1.5 s hears each start at other instants: once before the starter
// turns, once in its first rush, and mostly in between.

/** The engine charges one battery and starts from the other. */
const BOAT = boatFrom(`
engines:
  port: { instance: 0, fuel: diesel, cooling: closed, rated-speed: 2600 rpm, battery: house, starts-from: start }
batteries:
  house: { instance: 0, chemistry: lifepo4, nominal: 12 V, capacity: 400 Ah }
  start: { instance: 1, chemistry: agm, nominal: 12 V, capacity: 100 Ah }
`);
const RULES = packRules(["charging", "battery-lead", "battery-lifepo4", "engine-diesel", "bus"]);

function raised(scenario: string, seed: number) {
  return scenarioRaises(scenario, { boat: BOAT, rules: RULES, condition: "aboard", seed });
}

/** Told once when the start is over, and not before. */
const UNDER_NINE = rulesOf(`
alarms:
  - tag: under-nine
    title: Under nine
    each: engine
    low: { signal: cranking-voltage, setpoint: 9 V }
    priority: caution
  - tag: under-eight
    title: Under eight
    each: engine
    low: { signal: cranking-voltage, setpoint: 8 V }
    priority: caution
`);

test.each([1, 2, 3])(
  "a start that resets the engine's own gateway has its lowest volts all the same: 8.x V (%i)",
  async (seed) => {
    const all = await scenarioRaises("cranking-resets-the-bus", {
      ...{ boat: BOAT, rules: UNDER_NINE, condition: "aboard", seed },
    });
    expect(all.map(({ tag }) => tag)).toEqual(["under-nine"]);
  },
);

describe("a start battery", () => {
  test.each([1, 2, 3])("that is well raises nothing in forty starts (%i)", async (seed) => {
    expect(await raised("many-starts", seed)).toEqual([]);
  });

  test.each([1, 2, 3])("that weakens start by start is told, once (%i)", async (seed) => {
    const all = await raised("starts-weaken", seed);
    expect(all.map(({ tag, subject }) => `${tag} ${subject}`)).toEqual([
      "starts-weaker-than-usual port",
    ]);
    // The eleventh start is the first weak one, and takes a tenth more of the battery's volts.
    expect(all[0].at / 40.37).toBeGreaterThan(13);
    expect(all[0].at / 40.37).toBeLessThan(20);
  });
});
