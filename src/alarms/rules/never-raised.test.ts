import { describe, expect, test } from "vitest";
import { rulesOf } from "../../../tests/support/hand-made-boat.ts";
import { neverSent } from "./never-raised.ts";

const PLACE = { file: "rules.yaml", line: 1, column: 1 };

function missing(text: string, heard: readonly string[]): string[] {
  return rulesOf(text).flatMap((rule) => neverSent(rule, new Set(heard), PLACE))
    .map((problem) => problem.kind === "notice" ? problem.note : "");
}

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
