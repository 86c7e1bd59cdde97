import { expect, test } from "vitest";
import { boatWith, rulesOf } from "../../../tests/support/hand-made-boat.ts";
import { sayProblem } from "../../ground/problem-words.ts";
import { unknownSubjects } from "./unknown-subjects.ts";

const BOAT = boatWith([{ group: "engine", name: "port" }, { group: "engine", name: "starboard" }]);

function notices(signal: string, limit: string): string[] {
  const [rule] = rulesOf(`
alarms:
  - { tag: it, title: It, priority: alarm, high: { signal: ${signal}, setpoint: ${limit} } }
`);
  return unknownSubjects(rule, BOAT, { file: "rules.yaml", line: 1, column: 1 }).map(sayProblem);
}

test("a rule about the signal of what the boat file does not name is told of it", () => {
  expect(notices("engine/prot/speed", "3000 rpm")).toEqual([
    'rules.yaml:1:1: "it" is about no engine of the boat file: "engine/prot/speed"; ' +
    'did you mean "port"?',
  ]);
});

test("what the boat file names, leaves to its number or says nothing of, is well", () => {
  expect(notices("engine/port/speed", "3000 rpm")).toEqual([]);
  expect(notices("engine/2/speed", "3000 rpm")).toEqual([]);
  expect(notices("battery/house/voltage", "15 V")).toEqual([]);
  expect(notices("sea/temperature", "30 °C")).toEqual([]);
});
