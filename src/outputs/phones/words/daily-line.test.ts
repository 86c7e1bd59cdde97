import { describe, expect, test } from "vitest";
import type { AlarmStatus } from "../../../alarms/change.ts";
import { DAY, HOUR, MINUTE, parseIsoTime } from "../../../ground/time.ts";
import { dailyLine, type DailyWording, type DayFacts } from "./daily-line.ts";
import { LOCK_SCREEN } from "./lock-screen.ts";

const MORNING = parseIsoTime("2026-06-14T07:00:00Z") ?? 0;

const wording: DailyWording = {
  boat: "Hazel Comfort",
  timeZone: "Europe/London",
  now: MORNING,
  missed: undefined,
};

const status: AlarmStatus = {
  tag: "voltage-low",
  subject: "house",
  title: "Low voltage",
  state: "normal",
  hold: "none",
  occurrence: 0,
  priority: "warning",
  signal: "battery/house/voltage",
  value: 12.1,
  unit: "V",
  setpoint: 12.2,
  raised: null,
  changed: null,
  message: "",
  consequence: "",
  response: { aboard: "", ashore: "" },
};

const good: DayFacts = {
  onWatch: 34,
  unjudged: [],
  statuses: [status],
  since: MORNING - 3 * DAY,
  heard: MORNING - MINUTE,
  stood: new Map(),
  troubled: null,
  values: ["house 13.2 V", "shore power on", "aft pump ran twice", "6 m from the mooring"],
};

const line = (facts: Partial<DayFacts>, more: Partial<DailyWording> = {}) =>
  dailyLine({ ...good, ...facts }, { ...wording, ...more });

test("a day on which all was well is one line", () => {
  expect(line({})).toBe(
    "Hazel Comfort, 08:00: all well for 24 h. " +
      "House 13.2 V, shore power on, aft pump ran twice, 6 m from the mooring.",
  );
});

test("a watch that began in the night says since when", () => {
  expect(line({ since: MORNING - 5 * HOUR })).toContain(": all well since 03:00.");
});

test("all is well only since a rule could last not be judged", () => {
  expect(line({ troubled: MORNING - 5 * HOUR })).toContain(": all well since 03:00.");
  expect(line({ troubled: MORNING - 25 * HOUR })).toContain(": all well for 24 h.");
});

test("an alarm that was shelved and never raised has not come", () => {
  expect(line({ statuses: [{ ...status, raised: MORNING - HOUR }] })).toContain("all well");
});

describe("all is not well", () => {
  const raised = { ...status, occurrence: 1, raised: MORNING - 2 * HOUR };
  test.each<[string, Partial<DayFacts>, RegExp]>([
    [
      "while a rule cannot be judged",
      { unjudged: ["Fuel low", "Oil low", "Exhaust hot", "Anchor"], onWatch: 30 },
      /: 4 of 34 rules cannot be judged \(Fuel low, and 3 more\)\. House/,
    ],
    [
      "while an alarm stands",
      { statuses: [{ ...raised, state: "acknowledged" }] },
      /: 1 warning \(low voltage, house\) not over\. House/,
    ],
    [
      "after one came and went",
      { statuses: [raised] },
      /: 1 warning \(low voltage, house\) came and went\. House/,
    ],
    [
      "after one went that had come the day before",
      {
        statuses: [{ ...raised, raised: MORNING - 30 * HOUR }],
        stood: new Map([["voltage-low/house", MORNING - HOUR]]),
      },
      /: 1 warning \(low voltage, house\) came and went\. House/,
    ],
    [
      "while nobody has answered one that is over",
      { statuses: [{ ...raised, state: "returned-unacknowledged" }] },
      /: 1 warning \(low voltage, house\) over, not yet answered\. House/,
    ],
    [
      "while several of two priorities stand",
      {
        statuses: [
          { ...raised, state: "unacknowledged" },
          { ...raised, title: "Hot", state: "unacknowledged", priority: "alarm" },
          { ...raised, title: "Late", state: "acknowledged" },
        ],
      },
      /: 1 alarm and 2 warnings \(hot, house, and 2 more\) not over\. House/,
    ],
    [
      "while the rule files are refused",
      {
        statuses: [{
          ...status,
          tag: "rules-refused",
          priority: "caution",
          state: "acknowledged",
        }],
      },
      /: the rule files cannot be used as they are\. House/,
    ],
    [
      "while one is shelved",
      { statuses: [{ ...status, hold: "shelved" }] },
      /: 1 warning \(low voltage, house\) shelved or out of service\. House/,
    ],
    [
      "while one stands that is shelved",
      { statuses: [{ ...raised, state: "unacknowledged", hold: "shelved" }] },
      /08:00: 1 warning \(low voltage, house\) shelved or out of service, and not over\. House/,
    ],
    [
      "while one is not watched",
      {
        statuses: [{
          ...status,
          subject: "voltage-low--house",
          title: "Not watched: Low voltage",
          hold: "shelved",
        }],
      },
      /: 1 warning \(not watched: Low voltage, house\) shelved/,
    ],
    ["without a word on the bus", { heard: null }, /nothing has been heard on the bus/],
    [
      "on a bus that has fallen silent",
      { heard: MORNING - 9 * HOUR },
      /: nothing heard on the bus since 23:00 on 13 June\. House/,
    ],
    ["without rules", { onWatch: 0 }, /no rules are given, so nothing is judged\./],
  ])("%s", (_, facts, words) => {
    expect(line(facts)).toMatch(words);
    expect(line(facts)).not.toContain("all well");
  });
});

test("a caution is no reason to say that all is not well", () => {
  expect(line({ statuses: [{ ...status, priority: "caution", state: "acknowledged" }] }))
    .toContain("all well");
});

test("a line that was missed says so", () => {
  expect(line({}, { missed: MORNING - DAY })).toContain(
    "all well for 24 h. Nothing was said at 08:00 on 13 June: this program was not running.",
  );
});

test("what does not fit on a lock screen is left out", () => {
  const values = Array.from({ length: 30 }, (_, i) => `value ${i} V`);
  const text = line({ values });
  expect(text.length).toBeLessThanOrEqual(LOCK_SCREEN);
  expect(text).toMatch(/Value 0 V, .*\.$/);
});

test("a day on which everything was wrong is cut at a whole clause, and says that there is more", () => {
  const of = (title: string, more: Partial<AlarmStatus>): AlarmStatus => ({
    ...{ ...status, tag: title, title, occurrence: 1, raised: MORNING - HOUR },
    ...more,
  });
  const text = line({
    heard: MORNING - 3 * HOUR,
    unjudged: ["Exhaust too hot", "Petrol vapour in the engine room"],
    statuses: [
      of("Low oil pressure under load", { priority: "alarm", state: "unacknowledged" }),
      of("Shore power lost", { state: "returned-unacknowledged" }),
      of("Aft bilge pump runs too often", {}),
      of("House battery hot", { hold: "shelved", state: "unacknowledged" }),
    ],
  });
  expect(text.length).toBeLessThanOrEqual(LOCK_SCREEN);
  expect(text).toMatch(
    /^Hazel Comfort, 08:00: nothing heard on the bus since 05:00; 1 alarm \(low oil.*not over; .*; and 3 more\. House 13\.2 V\.$/,
  );
});
