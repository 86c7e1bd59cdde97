import { describe, expect, test } from "vitest";
import { HandMadeBoat, micros } from "../../tests/support/hand-made-boat.ts";
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

describe("why an alarm did not come", () => {
  const running = () =>
    new HandMadeBoat(RULES).at(0, { [OIL]: 40 * PSI, [SPEED]: 1700, [CONDITION]: "running" })
      .until(20);
  const why = (boat: HandMadeBoat, subject = "port") =>
    boat.alarms.whyNot("oil-low", subject, micros(100));

  test("is that it came", () => {
    const boat = running().at(30, { [OIL]: 0 }).until(40);
    expect(why(boat)).toMatchObject({ kind: "raised", at: micros(33) });
  });

  test("is that it did not last, and how long it did", () => {
    const boat = running().at(30, { [OIL]: 0 }).at(31.5, { [OIL]: 40 * PSI })
      .at(50, { [OIL]: 0 }).at(52.2, { [OIL]: 40 * PSI });
    expect(why(boat)).toMatchObject({
      kind: "too-short",
      at: micros(52.2),
      sentence: "It held for 2 s at most; its on-delay is 3 s.",
    });
  });

  test("is that the rule did not watch", () => {
    const boat = new HandMadeBoat(RULES)
      .at(0, { [OIL]: 0, [SPEED]: 0, [CONDITION]: "stopped" }).until(50);
    expect(why(boat)).toMatchObject({ kind: "not-watching", at: micros(0) });
    expect(why(boat).explanation?.conditions[0].answer).toBe("no");
  });

  test("is that it was never past its limit", () => {
    expect(why(running()).kind).toBe("never-past-its-limit");
  });

  test("is that it cannot be judged", () => {
    const boat = new HandMadeBoat(RULES).at(0, { [SPEED]: 1700, [CONDITION]: "running" }).until(20);
    expect(why(boat)).toMatchObject({
      kind: "not-judged",
      sentence: "It cannot be judged: nothing sends engine/port/oil-pressure.",
    });
  });

  test("is that there is no such alarm", () => {
    expect(why(running(), "wing")).toMatchObject({
      kind: "no-such-alarm",
      sentence: "This boat has no engine wing that the rule oil-low means.",
    });
  });
});
