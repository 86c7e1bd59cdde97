import { describe, expect, test } from "vitest";
import { KNOWN, rulesOf } from "../../../tests/support/hand-made-boat.ts";
import { oneRule } from "../../../tests/support/one-rule.ts";
import { neverRaised, neverSent } from "./never-raised.ts";

const PLACE = { file: "rules.yaml", line: 1, column: 1 };

function missing(text: string, heard: readonly string[]): string[] {
  return rulesOf(text).flatMap((rule) => neverSent(rule, new Set(heard), PLACE))
    .map((problem) => problem.kind === "notice" ? problem.note : "");
}

describe("a rule whose limit no message can pass", () => {
  const notes = (each: string, test: string) =>
    rulesOf(oneRule(each, test)).flatMap((rule) => neverRaised(rule, KNOWN, () => PLACE))
      .map((problem) => problem.kind === "notice" ? problem.note : "");

  test.each([
    // What is hotter than 250 °C is taken for a sender that is missing.
    ["engine", "high", "coolant-temperature", "950 °F", "over"],
    ["engine", "low", "coolant-temperature", "-60 °C", "under"],
    // 16 bits of 100 Pa, less three codes that are no pressure.
    ["engine", "high", "oil-pressure", "955 psi", "over"],
    // 16 bits with a sign, of a hundredth of a volt.
    ["battery", "high", "voltage", "400 V", "over"],
    ["battery", "low", "voltage", "-400 V", "under"],
    ["tank", "low", "level", "0 %", "under"],
  ])("of %s: %s %s %s is never %s it", (each, kind, signal, setpoint, side) => {
    expect(notes(each, `${kind}: { signal: ${signal}, setpoint: ${setpoint} }`))
      .toEqual([`never raised: its signal is never ${side} ${setpoint}`]);
  });

  test.each([
    ["engine", "high", "coolant-temperature", "249 °C"],
    ["engine", "high", "exhaust-temperature", "700 °C"],
    ["engine", "high", "oil-pressure", "945 psi"],
    ["battery", "high", "voltage", "320 V"],
    ["battery", "low", "current", "-400 A"],
    ["engine", "high", "hours", "90000 h"],
  ])("may be raised, of %s: %s %s %s", (each, kind, signal, setpoint) => {
    expect(notes(each, `${kind}: { signal: ${signal}, setpoint: ${setpoint} }`)).toEqual([]);
  });
});

describe("a rule of which nobody sends the signals", () => {
  const text = `
alarms:
  - tag: oil-low
    title: Oil low
    each: engine
    low: { signal: oil-pressure, setpoint: { along: speed, curve: { 700 rpm: 10 psi } } }
    watch-while: { all: [{ signal: condition, equals: running }, { signal: sea/temperature, over: 1 °C }] }
    priority: alarm
`;

  test("is never raised, and each of them is named", () => {
    expect(missing(text, ["engine/port/speed", "engine/port/condition"])).toEqual([
      "never raised: nothing sends engine oil-pressure",
      "never raised: nothing sends sea/temperature",
    ]);
  });

  test("needs them of any subject only", () => {
    expect(missing(text, [
      ...["engine/0/speed", "engine/0/condition"],
      ...["engine/1/oil-pressure", "sea/temperature"],
    ])).toEqual([]);
  });

  test("needs nobody to send the time of the day", () => {
    const byNight = text.replace(
      "{ signal: sea/temperature, over: 1 °C }",
      "{ time-of-day: { from: 22:00, to: 07:00 } }",
    );
    expect(missing(byNight, ["engine/0/speed", "engine/0/oil-pressure", "engine/0/condition"]))
      .toEqual([]);
  });

  test("may do without what is one of several", () => {
    const any = text.replace("{ all: [", "{ any: [");
    expect(missing(any, ["engine/0/speed", "engine/0/oil-pressure"])).toEqual([]);
  });
});
