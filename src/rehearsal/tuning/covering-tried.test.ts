import { expect, test } from "vitest";
import { rulesOf } from "../../../tests/support/hand-made-boat.ts";
import { coveringTried } from "./covering-tried.ts";
import { readSweep } from "./sweep.ts";

const rules = rulesOf(`
alarms:
  - { tag: coolant-hot, title: Hot, each: engine, priority: warning, high: { signal: coolant-temperature, setpoint: 95 °C } }
  - { tag: coolant-too-hot, title: Too hot, each: engine, priority: alarm, covers: [coolant-hot], high: { signal: coolant-temperature, setpoint: 102 °C } }
`);

function sweepOf(text: string) {
  const read = readSweep(text, rules, 0);
  if (!read.ok) throw new Error(read.why);
  return read.sweep;
}

test("what covers a rule covers each value at which it is tried", () => {
  const sweep = sweepOf("coolant-hot setpoint 80 to 100 °C by 10");
  const [hot, tooHot] = coveringTried(rules, [sweep]);
  expect(hot).toBe(rules[0]);
  expect(tooHot.covers).toEqual(["coolant-hot", ...sweep.variants.map(({ rule }) => rule.tag)]);
});

test("a rule that covers others is tried without covering them twice", () => {
  const sweep = sweepOf("coolant-too-hot setpoint 100 to 110 °C by 5");
  expect(coveringTried(rules, [sweep])).toEqual(rules);
  for (const { rule } of sweep.variants) expect(rule.covers).toEqual([]);
});
