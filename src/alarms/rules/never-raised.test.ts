import { describe, expect, test } from "vitest";
import { KNOWN, rulesOf } from "../../../tests/support/hand-made-boat.ts";
import { oneRule } from "../../../tests/support/one-rule.ts";
import { neverRaised } from "./never-raised.ts";

const PLACE = { file: "rules.yaml", line: 1, column: 1 };

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
