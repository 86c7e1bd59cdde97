import { describe, expect, test } from "vitest";
import { rulesOf } from "../../../tests/support/hand-made-boat.ts";
import { readSweep } from "./sweep.ts";

const RULES = rulesOf(`
alarms:
  - tag: below-usual
    title: Below
    each: engine
    priority: caution
    low: { signal: oil-pressure, setpoint: { usual: 20 h, share: 75 % } }
  - tag: starts-weaken
    title: Weak
    each: engine
    priority: caution
    low: { signal: cranking-voltage, setpoint: { usual: 10 starts, apart: 0.7 V, in-a-row: 3 } }
`);

function tried(text: string) {
  const read = readSweep(text, RULES, 0);
  return read.ok
    ? read.sweep.variants.map(({ label, isWritten }) => `${label}${isWritten ? " *" : ""}`)
    : read.why;
}

describe("what can be tried of a rule against what is usual", () => {
  test("is the share, or how far apart", () => {
    expect(tried("below-usual setpoint 70 to 80 % by 5")).toEqual(["70 %", "75 % *", "80 %"]);
    expect(tried("starts-weaken setpoint 0.6 to 0.8 V by 0.1"))
      .toEqual(["0.6 V", "0.7 V *", "0.8 V"]);
  });

  test("is no reading, and nothing of another unit", () => {
    expect(tried("below-usual setpoint 10 to 20 psi by 5")).toMatch(/a share .* 60 to 90 % by 5'$/);
    expect(tried("starts-weaken setpoint 10 to 20 psi by 5")).toMatch(/expected differences/);
    expect(tried("starts-weaken setpoint 10 to 20 % by 5")).toMatch(/expected differences/);
  });
});
