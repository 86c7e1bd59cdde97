import { expect, test } from "vitest";
import { SECOND } from "../../ground/time.ts";
import { boatWith, KNOWN, rulesOf } from "../../../tests/support/hand-made-boat.ts";
import { highWater } from "../../../tests/support/high-water.ts";
import type { Occurrence } from "../occurrences.ts";
import { draftExpectations } from "./draft.ts";
import { readExpectations } from "./read-expectations.ts";
import { verdictOf } from "./verdict.ts";

const rules = rulesOf(`
alarms:
  - { tag: low, title: Low, each: engine, priority: alarm, low: { signal: oil-pressure, setpoint: 10 psi } }
`);
const part = { title: "trip.log", source: 0, begins: 0, ends: 60 * SECOND };

function brought(tag: string, subject: string): Occurrence {
  const raising = highWater({ tag, subject, priority: "alarm", time: 20 * SECOND });
  return { tag, subject, raising, raised: raising.time, returned: 30 * SECOND, answered: null };
}

test.each([
  ["a thing with a name", "low", "port"],
  ["a thing that is called by its number", "low", "0"],
  ["a thing that is called by bus and number", "low", "can0-0"],
  ["a rule that could not be judged", "not-watched", "low--port"],
  ["a rule about a number that could not be judged", "not-watched", "low--0"],
  ["two devices that send the same", "two-senders", "engine-port"],
  ["a bus without a name", "bus-unnamed", "can1"],
])("what is drafted from an alarm about %s is read again, and holds", (_what, tag, subject) => {
  const occurrences = [brought(tag, subject)];
  const text = draftExpectations(part, occurrences, []);
  const names = { rules, boat: boatWith([{ group: "engine", name: "port" }]), catalogue: KNOWN };
  const { value, problems } = readExpectations("trip.expect.yaml", text, names);
  expect(problems).toEqual([]);
  if (value === undefined) throw new Error("it was refused");
  const { met, misses } = verdictOf(value, occurrences, {
    begins: 0,
    marks: new Map(),
    clockSettings: [],
  });
  expect(misses).toEqual([]);
  expect(met).toHaveLength(1);
});
