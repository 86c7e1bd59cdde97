import { describe, expect, test } from "vitest";
import { type Cruiser, cruiser, cruiserRaises } from "../support/cruiser.ts";
import { namesOf, packsFor, scenarioRaises } from "../support/pack-rehearsal.ts";

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
    const all = await cruiserRaises(scenario, where, boat);
    expect(namesOf(all)).toEqual(comes.map(([alarm]) => alarm));
    for (const [place, [alarm, from, to]] of comes.entries()) {
      expect(all[place].at, alarm).toBeGreaterThanOrEqual(from);
      expect(all[place].at, alarm).toBeLessThanOrEqual(to);
    }
  });
});

test("an anchor that drags rings, measured from where she lay when she was said to be anchored", async () => {
  const all = await scenarioRaises("mooring-drags", {
    boat: cruiser(),
    rules: packsFor("diesel"),
    condition: "anchored",
  });
  expect(namesOf(all)).toEqual(["anchor-drags boat"]);
});
