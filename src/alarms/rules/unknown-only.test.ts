import { expect, test } from "vitest";
import { boatWith, rulesOf } from "../../../tests/support/hand-made-boat.ts";
import { sayProblem } from "../../ground/problem-words.ts";
import { unknownOnly } from "./unknown-only.ts";

const BOAT = boatWith([{ group: "engine", name: "port" }, { group: "engine", name: "starboard" }]);

function notices(each: string, only: string): string[] {
  const signal = each === "engine" ? "speed" : "voltage";
  const limit = each === "engine" ? "3000 rpm" : "15 V";
  const [rule] = rulesOf(`
alarms:
  - { tag: it, title: It, each: ${each}, only: [${only}], priority: alarm,
      high: { signal: ${signal}, setpoint: ${limit} } }
`);
  return unknownOnly(rule, BOAT, { file: "rules.yaml", line: 1, column: 1 }).map(sayProblem);
}

test("a rule only for what the boat file does not name is told of it", () => {
  expect(notices("engine", "starboard, prot")).toEqual([
    'rules.yaml:1:1: "it" is for no engine of the boat file: only "prot"; did you mean "port"?',
  ]);
});

test("what the boat file names, or leaves to its number, is well", () => {
  expect(notices("engine", "port")).toEqual([]);
  expect(notices("engine", "'2'")).toEqual([]);
  expect(notices("battery", "huose")).toEqual([]);
});
