import { describe, expect, test } from "vitest";
import { boatFrom, packRules, scenarioRaises } from "../support/pack-rehearsal.ts";

/** A boat whose owner says what feeds the aft pump, and how much that pump takes. */
const BOAT = boatFrom(`
batteries: { house: { instance: 0, chemistry: lifepo4, nominal: 12 V, capacity: 400 Ah } }
chargers: { shore: { instance: 0, charges: house, powered-by: shore } }
bilges:
  aft: { pump: { instance: 0, indicator: 3, battery: house, step: 2..8 A }, float: { instance: 0, indicator: 4 } }
`);
const PLAIN = boatFrom(`
batteries: { house: { instance: 0, chemistry: lifepo4, nominal: 12 V, capacity: 400 Ah } }
bilges: { aft: { pump: { instance: 0, indicator: 3 } } }
`);

async function raised(scenario: string, seed = 1, boat = BOAT) {
  const rules = packRules(["bilge"]);
  const all = await scenarioRaises(scenario, { boat, rules, condition: "left", seed });
  return all.filter(({ tag }) => tag === "pump-draws-nothing");
}

describe("a pump that is switched on", () => {
  test.each([1, 2, 3])("and takes no current is told after 5 s (%i)", async (seed) => {
    const [first, ...others] = await raised("pump-dead", seed);
    expect(others).toEqual([]);
    // When its switch closed, by another rule: three minutes before it had run for three minutes.
    const on = (await scenarioRaises("pump-dead", {
      boat: PLAIN,
      rules: packRules(["bilge"]),
      condition: "left",
      seed,
    })).find(({ tag }) => tag === "pump-runs-long")!.at - 180;
    expect(first.at - on).toBeCloseTo(5, 3);
  });

  test.each([1, 2, 3])("and works beside a fridge is not (%i)", async (seed) => {
    expect(await raised("pump-beside-fridge", seed)).toEqual([]);
  });

  test.each(["leak-grows", "siphon", "pump-choked", "quiet-mooring", "fridge-cycles"])(
    "and works, or is carried by a charger, is not: %s",
    async (scenario) => {
      expect(await raised(scenario)).toEqual([]);
    },
  );

  test("and of which the boat file says no battery is not judged", async () => {
    expect(await raised("pump-dead", 1, PLAIN)).toEqual([]);
  });
});
