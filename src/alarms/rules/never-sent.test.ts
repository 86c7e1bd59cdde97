import { describe, expect, test } from "vitest";
import { boatWith, rulesOf } from "../../../tests/support/hand-made-boat.ts";
import { UNKNOWN_BOAT } from "../../boat/boat.ts";
import { type Heard, neverSent } from "./never-sent.ts";

const PLACE = { file: "rules.yaml", line: 1, column: 1 };

/** What a rule is told of signals that were heard with values, and of some without any. */
function missing(
  text: string,
  filled: readonly string[],
  empty: readonly string[] = [],
  boat = UNKNOWN_BOAT,
): string[] {
  const heard: Heard = new Map([
    ...filled.map((name) => [name, true] as const),
    ...empty.map((name) => [name, false] as const),
  ]);
  return rulesOf(text).flatMap((rule) => neverSent(rule, heard, boat, PLACE))
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

  test("needs them of those that it is only for", () => {
    const onlyPort = text.replace("each: engine", "each: engine\n    only: [port]");
    const others = ["engine/port/speed", "engine/port/condition", "sea/temperature"];
    expect(missing(onlyPort, [...others, "engine/starboard/oil-pressure"])).toEqual([
      "never raised: nothing sends engine oil-pressure of port",
    ]);
  });

  test("may do without what is one of several", () => {
    const any = text.replace("{ all: [", "{ any: [");
    expect(missing(any, ["engine/0/speed", "engine/0/oil-pressure"])).toEqual([]);
  });
});

describe("a rule whose signal is always sent as not available", () => {
  const ruleOf = (parts: string) => `
alarms:
  - { tag: fuel-rate-high, title: High, priority: warning, ${parts} }
`;
  const high = "high: { signal: fuel-rate, setpoint: 30 L/h }";
  const [port, starboard] = ["engine/port/fuel-rate", "engine/starboard/fuel-rate"];

  test("is never raised where nobody sends a value", () => {
    expect(missing(ruleOf(`each: engine, ${high}`), [], [port, starboard])).toEqual([
      "never raised: engine fuel-rate is always sent as not available",
    ]);
    const whole = `high: { signal: ${port}, setpoint: 30 L/h }`;
    expect(missing(ruleOf(whole), [starboard], [port])).toEqual([
      `never raised: ${port} is always sent as not available`,
    ]);
  });

  test("is never raised for those that send none", () => {
    expect(missing(ruleOf(`each: engine, ${high}`), [port], [starboard])).toEqual([
      "never raised for starboard: engine fuel-rate is always sent as not available",
    ]);
  });

  test("is told nothing of those that it does not mean", () => {
    expect(missing(ruleOf(`each: engine, only: [port], ${high}`), [port], [starboard])).toEqual([]);
    const boat = boatWith([
      { group: "engine", name: "port", words: { fuel: "diesel" } },
      { group: "engine", name: "starboard", words: { fuel: "petrol" } },
    ]);
    const diesel = ruleOf(`each: engine, where: { fuel: diesel }, ${high}`);
    expect(missing(diesel, [port], [starboard], boat)).toEqual([]);
    const petrolOnly = boatWith([{
      group: "engine",
      name: "starboard",
      words: { fuel: "petrol" },
    }]);
    expect(missing(diesel, [], [starboard], petrolOnly)).toEqual([]);
  });

  test("is never raised of twins where one of them sends none", () => {
    const apart = "each: engine-pair, deviation: { signal: fuel-rate, limit: 5 L/h }";
    expect(missing(ruleOf(apart), [port], [starboard])).toEqual([
      "never raised: engine fuel-rate of starboard is always sent as not available",
    ]);
  });

  test("may tell that it is not heard at all", () => {
    const lost = "each: engine, not-heard: { signal: fuel-rate }";
    expect(missing(ruleOf(lost), [], [port])).toEqual([]);
    expect(missing(ruleOf(lost), [], [])).toEqual(["never raised: nothing sends engine fuel-rate"]);
  });
});
