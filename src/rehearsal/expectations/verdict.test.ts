import { describe, expect, test } from "vitest";
import type { AlarmChange } from "../../alarms/change.ts";
import type { AlarmStateName } from "../../alarms/words.ts";
import { SECOND } from "../../ground/time.ts";
import { boatWith, KNOWN, rulesOf } from "../../../tests/support/hand-made-boat.ts";
import { highWater } from "../../../tests/support/high-water.ts";
import { occurrencesOf } from "../occurrences.ts";
import { readExpectations } from "./read-expectations.ts";
import { verdictOf } from "./verdict.ts";
import { verdictLines } from "./verdict-lines.ts";

const rules = rulesOf(`
alarms:
  - { tag: low, title: Low, each: engine, priority: alarm, low: { signal: oil-pressure, setpoint: 10 psi } }
  - { tag: high, title: High, each: engine, priority: alarm, high: { signal: speed, setpoint: 900 rpm } }
`);

function change(
  seconds: number,
  from: AlarmStateName,
  to: AlarmStateName,
  about: Partial<AlarmChange> = {},
): AlarmChange {
  return highWater({
    ...{ tag: "low", subject: "port", priority: "alarm", signal: "engine/port/oil-pressure" },
    ...{ value: 0, unit: "Pa", setpoint: 0, why: "", from, to, time: seconds * SECOND },
    ...about,
  });
}

/** Raised and returned, in seconds since the recording's start. */
function brought(...spans: [number, number | null][]): AlarmChange[] {
  return spans.flatMap(([raised, returned]) => [
    change(raised, "normal", "unacknowledged"),
    ...(returned === null ? [] : [
      change(returned, "unacknowledged", "returned-unacknowledged"),
      change(returned, "returned-unacknowledged", "normal", { by: "Ann" }),
    ]),
  ]);
}

function verdict(text: string, changes: readonly AlarmChange[]) {
  const { value, problems } = readExpectations("x.yaml", text, {
    rules,
    boat: boatWith([]),
    catalogue: KNOWN,
  });
  if (value === undefined) throw new Error(JSON.stringify(problems));
  return verdictOf(value, occurrencesOf(changes), {
    begins: 0,
    marks: new Map(),
    clockSettings: [],
  });
}

function line(raised: string, returned?: string): string {
  const over = returned === undefined ? "" : `, returned: ${returned}`;
  return `  - { alarm: low, subject: port, raised: ${raised}${over} }\n`;
}

describe("a line of expectations", () => {
  test.each([[10, true], [20, true], [9.999999, false], [20.000001, false]])(
    "whose window is 10 to 20 s and an alarm at %d s: %s",
    (at, holds) => {
      const { misses } = verdict(`expect:\n${line("[0:00:10, 0:00:20]")}`, brought([at, 30]));
      expect(misses.length === 0).toBe(holds);
    },
  );

  test("is held by the return of the condition, answered or not", () => {
    const text = `expect:\n${line("[0:00:10, 0:00:20]", "[0:00:30, 0:00:40]")}`;
    expect(verdict(text, brought([15, 35])).misses).toEqual([]);
    expect(verdict(text, brought([15, 50])).misses).toMatchObject([{ kind: "returned-outside" }]);
    expect(verdict(text, brought([15, null])).misses).toMatchObject([{ kind: "returned-outside" }]);
  });

  test("matches exactly one raising; a second one is something else", () => {
    const text = `expect:\n${line("[0:00:10, 0:00:20]")}`;
    const { met, misses } = verdict(text, brought([12, 13], [16, 17]));
    expect(met.length).toBe(1);
    expect(misses).toMatchObject([{ kind: "not-expected" }]);
    expect(verdict(`${text}anything-else: yes`, brought([12, 13], [16, 17])).misses).toEqual([]);
  });

  test("leaves to another line the raising that only that one fits", () => {
    const text = `expect:\n${line("[0:00:10, 0:00:20]")}${line("[0:00:10, 0:00:13]")}`;
    expect(verdict(text, brought([12, 13], [16, 17])).misses).toEqual([]);
  });

  test("that nothing meets takes the nearest raising for its miss", () => {
    const { misses } = verdict(`expect:\n${line("[0:00:10, 0:00:20]")}`, brought([2, 3], [25, 26]));
    expect(misses).toMatchObject([
      { kind: "raised-outside", occurrence: { raised: 25 * SECOND } },
      { kind: "not-expected", occurrence: { raised: 2 * SECOND } },
    ]);
  });
});

test("what must never come is a miss even where anything else is allowed", () => {
  const { misses } = verdict("never: [low]\nanything-else: yes", brought([2, 3]));
  expect(misses).toMatchObject([{ kind: "forbidden" }]);
});

test("nothing is allowed that nothing speaks of, unless that is said", () => {
  expect(verdict("expect: []", brought([2, 3])).misses).toMatchObject([{ kind: "not-expected" }]);
  expect(verdict("anything-else: yes", brought([2, 3])).misses).toEqual([]);
});

test("what was due after the recording's end is told so, and nothing is said of before", () => {
  const wordsOf = (window: string, ends: number) =>
    verdictLines("x.yaml", verdict(`expect:\n${line(window)}`, []), {
      rules,
      begins: 0,
      ends: ends * SECOND,
      clockSettings: [],
      active: () => [],
      whyNot: () => "It came near.",
    })[1].split("did not come. ")[1];
  expect(wordsOf("[0:00:10, 0:00:20]", 9)).toBe("The recording ends at 0:00:09.");
  expect(wordsOf("[0:00:10, 0:00:20]", 15)).toBe("It came near. The recording ends at 0:00:15.");
  expect(wordsOf("[0:00:10, 0:00:20]", 20)).toBe("It came near.");
});

test("times are shown to the millisecond, and what came within one of its window is told so", () => {
  const changes = brought([10.0002, 30]);
  const [, miss] = verdictLines(
    "x.yaml",
    verdict(`expect:\n${line("[0:00:10, 0:00:10]")}`, changes),
    {
      rules,
      begins: 0,
      ends: 60 * SECOND,
      clockSettings: [],
      active: () => [],
      whyNot: () => "",
    },
  );
  expect(miss).toContain("and came at 0:00:10, less than 1 ms too late.");
});
