import { describe, expect, test } from "vitest";
import { rulesOf } from "../../tests/support/hand-made-boat.ts";
import { AlarmNames } from "./alarm-names.ts";

const names = new AlarmNames(rulesOf(`
alarms:
  - tag: oil-low
    title: Low oil pressure
    each: engine
    low: { signal: oil-pressure, setpoint: 10 psi }
    priority: alarm
    consequence: The bearings run dry.
    response: { aboard: Stop it., ashore: Call. }
`));

describe("what an alarm is called", () => {
  test("is its rule's title and its subject", () => {
    expect(names.name({ tag: "oil-low", subject: "port" })).toBe("Low oil pressure, port");
    expect(names.name({ tag: "oil-low", subject: "" })).toBe("Low oil pressure");
  });

  test("of the built-in cautions is a title too", () => {
    expect(names.name({ tag: "not-watched", subject: "oil-low--port" }))
      .toBe("Not watched: Low oil pressure, port");
    expect(names.name({ tag: "two-senders", subject: "engine-port" }))
      .toBe("Two devices send the same thing, engine-port");
  });

  test("begins a sentence with the title quoted", () => {
    expect(names.quoted({ tag: "oil-low", subject: "port" })).toBe("'Low oil pressure', port,");
    expect(names.quoted({ tag: "not-watched", subject: "oil-low--port" }))
      .toBe("'Not watched: Low oil pressure', port,");
    expect(names.quoted({ tag: "oil-low", subject: "" })).toBe("'Low oil pressure'");
  });

  test("is its tag where no rule has it", () => {
    expect(names.name({ tag: "gone", subject: "port" })).toBe("gone, port");
  });
});
