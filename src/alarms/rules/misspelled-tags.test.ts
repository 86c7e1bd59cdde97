import { expect, test } from "vitest";
import { sayProblem } from "../../ground/problem-words.ts";
import { readYaml } from "../../ground/yaml-file.ts";
import { misspelledTags } from "./misspelled-tags.ts";

const PACK = readYaml("pack.yaml", "alarms: [{ tag: coolant-hot }, { tag: over-speed }]").document;

function found(entry: string): string[] {
  const { document } = readYaml("rules.yaml", `alarms:\n  - ${entry}\n`);
  return misspelledTags(document, [PACK]).map(sayProblem);
}

test("who misses the tag of a rule that is to be changed is told the nearest", () => {
  expect(found("{ tag: coolant-ht, high: { setpoint: 92 °C } }")).toEqual([
    'rules.yaml:2:12: found "coolant-ht", which the set of packs used here does not know; ' +
    'did you mean "coolant-hot"?',
  ]);
});

test("who misses the tag of a rule that is to be dropped is told so, and nothing is stopped", () => {
  expect(found("{ tag: overspeed, watch: no }")).toEqual([
    'rules.yaml:2:12: "overspeed" is dropped, and no pack that is used here has it; ' +
    'did you mean "over-speed"?',
  ]);
});

test("a rule of its own may be called nearly as one of a pack", () => {
  expect(found("{ tag: coolant-hot-2, title: Hot, priority: alarm }")).toEqual([]);
  expect(found("{ tag: coolant-hot, on-delay: 3 s }")).toEqual([]);
  expect(found("{ tag: something-else, watch: no }")).toEqual([]);
});
