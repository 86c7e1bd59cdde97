import { expect, test } from "vitest";
import { BusNames } from "../../src/bus/bus-names.ts";
import { FrameBatch } from "../../src/bus/frame-batch.ts";
import { RowEncoder } from "../../src/commands/sources/row-encoder.ts";
import { SECOND } from "../../src/ground/time.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import type { Scenario } from "../../src/simulator/happening.ts";
import { SCENARIOS } from "../../src/simulator/scenarios/all.ts";
import { Simulator } from "../../src/simulator/simulator.ts";
import { randomTrip } from "../../src/simulator/trip.ts";
import { Watch } from "../../src/watch.ts";
import { exampleRehearsal } from "../support/example-rehearsal.ts";

const START = 1_781_431_200 * SECOND;
const { boat, rules } = await exampleRehearsal();

/** What the example's rules raise while a story is told, in order, each once. */
function raised(scenario: Scenario, seed = 1): string[] {
  const busNames = new BusNames();
  const bus = busNames.numberOf("can0");
  const encoder = new RowEncoder(ALL_ROWS);
  const simulator = new Simulator({ scenario, encoder, start: START, seed, bus });
  const watch = new Watch({ boat, rules, busNames });
  const batch = new FrameBatch(4096);
  const found = new Set<string>();
  let whole = false;
  while (!whole) {
    batch.count = 0;
    whole = simulator.fill(batch, START + scenario.lasting);
    watch.feed(batch);
    for (const { tag, subject, from, to } of watch.takeChanges()) {
      if (from === "normal" && to !== "normal") found.add(`${tag} ${subject}`);
    }
  }
  return [...found];
}

/** What is wrong is not for these rules. Where a boat is well they are tried with the packs. */
const NO_WORD = [
  "receiver-date-wrong",
  "failing-backbone",
];

test.each(NO_WORD)("%s: the example's rules raise nothing", (name) => {
  expect(raised(SCENARIOS.get(name)!)).toEqual([]);
});

const A_WORD: readonly (readonly [story: string, ...alarms: string[]])[] = [
  ["two-gateways-one-instance", "two-senders engine-port"],
  // Nothing is raised from it, and that the rule cannot be judged is said once.
  ["status-words-not-available", "not-watched oil-pressure-switch--port"],
  ["status-words-zero", "oil-pressure-low-under-load port"],
  ["float-pump-leak", "high-water forward"],
  ["raw-water-blocked", "coolant-temperature-high port", "coolant-temperature-too-high port"],
];

test.each(A_WORD)("%s: they raise what they should, and no more", (name, ...alarms) => {
  expect(raised(SCENARIOS.get(name)!)).toEqual(alarms);
});

test.each([1, 2, 3, 4])(
  "a trip by chance on which all goes well: nothing (%i)",
  (seed) => {
    expect(raised(randomTrip(seed, { faults: [] }).scenario, seed)).toEqual([]);
  },
);

test.each([1, 2])(
  "a trip by chance on which the oil is lost: that engine's alarm (%i)",
  (seed) => {
    const { scenario, truth } = randomTrip(seed, { faults: ["oil-lost"] });
    expect(raised(scenario, seed)).toContain(`oil-pressure-low-under-load ${truth[0].subject}`);
  },
);
