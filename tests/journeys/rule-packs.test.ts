import { describe, expect, test } from "vitest";
import { readRules } from "../../src/alarms/rules/read-rules.ts";
import { BoatState } from "../../src/boat/boat-state.ts";
import { cruiser, cruiserRaises } from "../support/cruiser.ts";
import { exampleRehearsal } from "../support/example-rehearsal.ts";
import { needs, TRACTOR_DATA } from "../support/needs.ts";
import { boatWith, HandMadeBoat, KNOWN } from "../support/hand-made-boat.ts";
import {
  boatFrom,
  PACK_NAMES,
  packRules,
  packsFor,
  packText,
  recordingRaises,
  sameScenarioRaises,
} from "../support/pack-rehearsal.ts";

describe("a rule pack", () => {
  test.each(PACK_NAMES)(
    "%s reads without a problem, and says what to do for every alarm",
    (name) => {
      const { value, problems } = readRules(`${name}.yaml`, packText(name), KNOWN);
      expect(problems).toEqual([]);
      for (const rule of value?.rules ?? []) {
        expect(rule.title).not.toBe("");
        expect(rule.consequence).not.toBe("");
        expect(rule.response.aboard).not.toBe("");
        expect(rule.response.ashore).not.toBe("");
      }
    },
  );

  test.each(PACK_NAMES)("%s says the basis of its numbers", (name) => {
    expect(packText(name)).toMatch(/# .*\b(CP|M|J)\b: /);
  });

  test.each(["diesel", "petrol"] as const)("of a %s boat has no tag of another pack", (fuel) => {
    const other = fuel === "diesel" ? "engine-petrol" : "engine-diesel";
    const all = PACK_NAMES.filter((name) => name !== other)
      .flatMap((name) => packRules([name]).map(({ tag }) => tag));
    expect(all).toEqual([...new Set(all)]);
  });

  test("covers only alarms of some pack", () => {
    const known = new Set(packRules().map(({ tag }) => tag));
    const strange = packRules().flatMap(({ covers }) => covers).filter((tag) => !known.has(tag));
    expect(strange).toEqual([]);
  });
});

// What cries wolf, and does not here.
describe("all packs together say nothing, nor do the rules of the example,", () => {
  test.each(
    [
      ["quiet-mooring", "left"],
      ["fridge-cycles", "left"],
      ["lithium-plateau", "left"],
      ["charger-at-rest", "left"],
      ["fix-strays", "left"],
      ["float-chatter", "left"],
      ["address-changes", "left"],
      ["generator", "aboard"],
      ["hot-idle", "aboard"],
      ["heat-soak", "aboard"],
      ["reed-senders", "aboard"],
      ["slow-gateways", "aboard"],
      ["noisy-senders", "aboard"],
      ["cranking-resets-the-bus", "aboard"],
    ] as const,
  )("of %s", async (name, where) => {
    const packs = { boat: cruiser(), rules: packsFor("diesel"), condition: where };
    expect(await sameScenarioRaises(name, [packs, await exampleRehearsal()])).toEqual([[], []]);
  });

  test("of a kettle on a small lead bank", async () => {
    expect(await cruiserRaises("battery-sag", "aboard", { house: "agm" })).toEqual([]);
  });

  test("of two petrol V8s that are well", async () => {
    expect(await cruiserRaises("petrol-v8s", "aboard", { fuel: "petrol" })).toEqual([]);
  });
});

// The nasty situations stand by number in situations-1-to-6 and situations-7-to-12, what the packs
// tell in rule-packs-tell.

const raisings = ({ story }: HandMadeBoat) =>
  story.filter((one) => one.endsWith(" unacknowledged"));

test("an adapter that has left the bus is told at once, and nothing of errors beside it", () => {
  const boat = new HandMadeBoat(packRules(["bus"]))
    .at(0, { "network/main/bus-off": 0, "network/main/error-frames": 0 })
    .at(10, { "network/main/bus-off": 1, "network/main/error-frames": 40 }).until(120);
  expect(raisings(boat)).toEqual(["10 bus-off main unacknowledged"]);
});

test("high water rings after 5 s at rest or while nothing says how she moves, after 15 s under way", () => {
  const FLOAT = "bilge/aft/float";
  for (
    const [way, tag, after] of [[0, "high-water", 5], [1, "high-water-under-way", 15]] as const
  ) {
    const boat = new HandMadeBoat(packRules(["bilge"]))
      .at(0, { [FLOAT]: 0, "boat/under-way": way }).at(1, { [FLOAT]: 1 }).until(60);
    expect(raisings(boat)).toEqual([`${1 + after} ${tag} aft unacknowledged`]);
  }
  const unknown = new HandMadeBoat(packRules(["bilge"]))
    .at(0, { [FLOAT]: 0, "boat/under-way": "not available" }).at(1, { [FLOAT]: 1 }).until(60);
  expect(raisings(unknown)).toEqual(["6 high-water aft unacknowledged"]);
});

test("fuel that falls by three sender steps in six hours with nobody aboard is told", () => {
  const HOUR = 3600;
  const LEVEL = "tank/fuel-port/level";
  const subjects = [{ group: "tank", name: "fuel-port", words: { fluid: "fuel" } }];
  const rehearse = (levels: readonly number[]) => {
    const boat = new HandMadeBoat(packRules(["tanks"]), boatWith(subjects));
    new BoatState(boat.table, { condition: "left", winterised: false }, 0);
    for (const [hour, level] of levels.entries()) {
      boat.at(hour * HOUR, { "boat/under-way": 0, [LEVEL]: level });
    }
    return raisings(boat);
  };
  expect(rehearse([90, 90, 90, 90, 90, 90, 90, 85.5, 85.5, 81])).toEqual([]);
  expect(rehearse([90, 90, 90, 90, 90, 90, 90, 85.5, 81, 76.5])).toEqual([
    `${9 * HOUR} fuel-falling fuel-port unacknowledged`,
  ]);
});

needs("tractor-data")("a diesel tractor's real starts", () => {
  test.each(["start1", "noStartInGear1", "highRPM1"])("of %s raise nothing", async (name) => {
    const boat = boatFrom("engines: { main: { bus: can0, address: 0, fuel: diesel } }");
    const rules = packsFor("diesel");
    const file = `${TRACTOR_DATA}/${name}.log.gz`;
    expect(await recordingRaises(file, { boat, rules, condition: "aboard" })).toEqual([]);
  });
});
