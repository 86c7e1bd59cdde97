import { describe, expect, test } from "vitest";
import type { Priority } from "../../alarms/words.ts";
import { DAY, HOUR, MINUTE, SECOND } from "../../ground/time.ts";
import type { Occurrence } from "../occurrences.ts";
import { floodsIn, healthOf, PER, rateIn } from "./health.ts";

function occurrence(
  raised: number,
  returned: number | null,
  tag = "low",
  priority: Priority = "alarm",
): Occurrence {
  const raising = {
    tag,
    subject: "port",
    occurrence: 1,
    from: "normal",
    to: "unacknowledged",
    hold: "none",
    priority,
    signal: "",
    value: null,
    unit: "",
    setpoint: null,
    time: raised,
    why: "",
    by: "",
  } as const;
  return { tag, subject: "port", raising, raised, returned, answered: null };
}

describe("a flood (ANSI/ISA-18.2: more than 10 in ten minutes, until fewer than 5)", () => {
  test("of 3, 11, 9, 6, 4, 2 lasts three intervals and has 26 alarms", () => {
    expect(floodsIn([3, 11, 9, 6, 4, 2], 0)).toEqual([
      { begins: 10 * MINUTE, lasting: 30 * MINUTE, alarms: 26, peak: 11 },
    ]);
  });

  test("is not 10, 10, 10: that is not more than ten", () => {
    expect(floodsIn([10, 10, 10], 0)).toEqual([]);
  });

  test("may still last when the recording ends, and come twice", () => {
    expect(floodsIn([11, 4, 12, 5], HOUR).map(({ begins, lasting }) => [begins, lasting])).toEqual([
      [HOUR, 10 * MINUTE],
      [HOUR + 20 * MINUTE, 20 * MINUTE],
    ]);
  });
});

describe("chattering (three times or more in one minute)", () => {
  const chattering = (...spans: [number, number | null][]) =>
    healthOf([{
      begins: 0,
      ends: HOUR,
      occurrences: spans.map(([raised, returned]) =>
        occurrence(raised * SECOND, returned === null ? null : returned * SECOND)
      ),
    }]).chattering;

  test("is three times there and gone within sixty seconds", () => {
    expect(chattering([10, 12], [30, 31], [60, 70])).toEqual([{ name: "low, port", times: 3 }]);
  });

  test("is not three times in more than that, nor twice, nor one that stays", () => {
    expect(chattering([10, 12], [30, 31], [60, 70.1])).toEqual([]);
    expect(chattering([10, 12], [30, 31])).toEqual([]);
    expect(chattering([10, 12], [30, 31], [50, null])).toEqual([]);
  });
});

test("an alarm stands when it was there for more than a day without a break", () => {
  const { standing } = healthOf([{
    begins: 0,
    ends: 3 * DAY,
    occurrences: [
      occurrence(0, DAY, "a-day"),
      occurrence(0, DAY + 1, "a-moment-more"),
      occurrence(DAY, null, "to-the-end"),
    ],
  }]);
  expect(standing.map(({ name }) => name)).toEqual(["a-moment-more, port", "to-the-end, port"]);
});

test("rates, peak and priorities are over the time that was rehearsed, without the gaps", () => {
  const health = healthOf([
    { begins: 0, ends: HOUR, occurrences: [occurrence(1, 2), occurrence(3, 4, "b", "warning")] },
    { begins: DAY, ends: DAY + HOUR, occurrences: [occurrence(DAY + HOUR, null, "b", "warning")] },
  ]);
  expect(health).toMatchObject({
    lasting: 2 * HOUR,
    alarms: 3,
    intervals: 12,
    peak: 2,
    priorities: { "emergency-alarm": 0, "alarm": 1, "warning": 2, "caution": 0 },
    frequent: [{ name: "b, port", alarms: 2 }, { name: "low, port", alarms: 1 }],
  });
  expect(rateIn(health, PER.hour)).toBe(1.5);
  expect(rateIn(health, PER.day)).toBe(36);
});
