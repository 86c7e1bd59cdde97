import { describe, expect, test } from "vitest";
import { HandMadeBoat } from "../../tests/support/hand-made-boat.ts";
import { SECOND } from "../ground/time.ts";

const OIL = "engine/port/oil-pressure";
const SPEED = "engine/port/speed";
const CONDITION = "engine/port/condition";
const PSI = 6894.757293168362;

const RULES = `
alarms:
  - tag: oil-low
    title: Low oil pressure
    each: engine
    low: { signal: oil-pressure, setpoint: { along: speed, curve: { 700 rpm: 10 psi, 2700 rpm: 30 psi } } }
    watch-while:
      all:
        - { signal: condition, one-of: [idling, running], held: 10 s }
        - { not: { signal: speed, under: 500 rpm } }
    on-delay: 3 s
    priority: alarm
`;

describe("a change", () => {
  test("carries what the rule looked at, the limit of that instant, and what let it be judged", () => {
    const boat = new HandMadeBoat(RULES)
      .at(0, { [OIL]: 40 * PSI, [SPEED]: 1700, [CONDITION]: "running" })
      .at(20, { [OIL]: 15 * PSI }).until(30);
    expect(boat.changes[0].explanation).toEqual({
      inputs: [
        { signal: OIL, value: 103421.36, unit: "Pa", quality: "good", reason: "", age: 3 * SECOND },
        {
          signal: SPEED,
          value: 1700,
          unit: "1/min",
          quality: "good",
          reason: "",
          age: 23 * SECOND,
        },
        {
          ...{ signal: CONDITION, value: "running", unit: "", quality: "good", reason: "" },
          age: 23 * SECOND,
        },
      ],
      value: 103421.36,
      setpoint: 137895.15,
      unit: "Pa",
      watching: "yes",
      conditions: [
        { condition: "engine/port/condition is idling or running, held 10 s", answer: "yes" },
        { condition: "not: engine/port/speed under 500 rpm", answer: "yes" },
      ],
      suppressed: false,
      held: 3 * SECOND,
    });
  });
});
