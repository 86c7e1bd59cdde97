import { describe, expect, test } from "vitest";
import { readRules } from "../../src/alarms/rules/read-rules.ts";
import { BoatState } from "../../src/boat/boat-state.ts";
import { type Cruiser, cruiser } from "../support/cruiser.ts";
import { needs, TRACTOR_DATA } from "../support/needs.ts";
import { boatWith, HandMadeBoat, KNOWN } from "../support/hand-made-boat.ts";
import {
  boatFrom,
  PACK_NAMES,
  packRules,
  packsFor,
  packText,
  type Raised,
  recordingRaises,
  scenarioRaises,
} from "../support/pack-rehearsal.ts";

/** What every pack together raises in a scenario, with somebody aboard or at the mooring. */
function raised(name: string, where: "aboard" | "left", boat: Cruiser = {}): Promise<Raised[]> {
  const rules = packsFor(boat.fuel ?? "diesel");
  return scenarioRaises(name, { boat: cruiser(boat), rules, condition: where });
}

const tags = (all: readonly Raised[]) => all.map(({ tag, subject }) => `${tag} ${subject}`);

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
describe("all packs together say nothing", () => {
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
    expect(await raised(name, where)).toEqual([]);
  });

  test("of a kettle on a small lead bank", async () => {
    expect(await raised("battery-sag", "aboard", { house: "agm" })).toEqual([]);
  });

  test("of two petrol V8s that are well", async () => {
    expect(await raised("petrol-v8s", "aboard", { fuel: "petrol" })).toEqual([]);
  });
});

interface Told extends Cruiser {
  readonly scenario: string;
  readonly where: "aboard" | "left";
  /** Each alarm that comes, in order, with the seconds within which it does. */
  readonly comes: readonly (readonly [alarm: string, from: number, to: number])[];
}

// Seconds of the scenario's own faults, and the delay of the rule after them. They count from the
// first frame, which comes a little after the scenario begins.
const TOLD: readonly Told[] = [
  {
    scenario: "harbour-day",
    where: "aboard",
    comes: [["oil-pressure-low port", 60, 90], ["charger-in-fault shore", 900, 1000]],
  },
  {
    scenario: "status-words-zero",
    where: "aboard",
    comes: [["oil-pressure-low port", 103, 108]],
  },
  {
    scenario: "raw-water-blocked",
    where: "aboard",
    comes: [
      ["exhaust-too-hot port", 95, 120],
      ["coolant-hot port", 105, 240],
      ["coolant-too-hot port", 110, 300],
    ],
  },
  { scenario: "engine-room-hot", where: "aboard", comes: [["engine-room-hot port", 180, 1200]] },
  { scenario: "not-charging", where: "aboard", comes: [["charge-indicator starboard", 150, 151]] },
  {
    scenario: "over-voltage",
    where: "aboard",
    comes: [["over-voltage-agm start", 123, 130]],
  },
  {
    scenario: "charger-overcharges",
    where: "left",
    house: "agm",
    comes: [["overcharge-agm house", 240, 300]],
  },
  {
    scenario: "charger-does-not-hold",
    where: "left",
    comes: [["charge-falls-on-shore-power shore", 3600, 4500]],
  },
  {
    scenario: "leak-grows",
    where: "left",
    comes: [["pump-starts-often aft", 0, 1800], ["pump-starts-too-often aft", 1800, 2400]],
  },
  {
    scenario: "siphon",
    where: "left",
    comes: [["pump-starts-often aft", 0, 600], ["pump-starts-too-often aft", 600, 1200]],
  },
  {
    scenario: "pump-choked",
    where: "left",
    comes: [["pump-runs-long aft", 180, 240], ["pump-runs-too-long aft", 600, 660]],
  },
  {
    scenario: "pump-dead",
    where: "left",
    comes: [
      ["pump-runs-long aft", 180, 240],
      ["pump-runs-too-long aft", 600, 660],
      ["high-water aft", 660, 1500],
    ],
  },
  {
    scenario: "vapour-and-carbon-monoxide",
    where: "left",
    fuel: "petrol",
    comes: [["petrol-vapour engine-room", 61.5, 63], ["carbon-monoxide saloon", 131.5, 133]],
  },
  { scenario: "bus-goes-dead", where: "left", comes: [["bus-dead main", 180, 190]] },
  { scenario: "mooring-drags", where: "left", comes: [["moved boat", 240, 600]] },
];

describe("all packs together tell, and tell nothing else,", () => {
  test.each(TOLD)("what happens in $scenario", async ({ scenario, where, comes, ...boat }) => {
    const all = await raised(scenario, where, boat);
    expect(tags(all)).toEqual(comes.map(([alarm]) => alarm));
    for (const [place, [alarm, from, to]] of comes.entries()) {
      expect(all[place].at, alarm).toBeGreaterThanOrEqual(from);
      expect(all[place].at, alarm).toBeLessThanOrEqual(to);
    }
  });
});

// The nasty situations stand by number in situations-1-to-6 and situations-7-to-12.

test("an anchor that drags rings, measured from where she lay when she was said to be anchored", async () => {
  const all = await scenarioRaises("mooring-drags", {
    boat: cruiser(),
    rules: packsFor("diesel"),
    condition: "anchored",
  });
  expect(tags(all)).toEqual(["anchor-drags boat"]);
});

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
