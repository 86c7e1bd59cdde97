import { describe, expect, test } from "vitest";
import type { Priority } from "../../alarms/words.ts";
import { DAY, HOUR, MINUTE, SECOND } from "../../ground/time.ts";
import type { Occurrence } from "../occurrences.ts";
import { healthTable } from "./health-lines.ts";
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

  test("is found by when each alarm was raised, from the start of its run", () => {
    const counts = [3, 11, 9, 6, 4, 2];
    const occurrences = counts.flatMap((count, interval) =>
      Array.from({ length: count }, (_, i) => {
        const raised = DAY + interval * 10 * MINUTE + i * SECOND;
        return occurrence(raised, raised + MINUTE, `tag-${i}`);
      })
    );
    const health = healthOf([{ begins: DAY, ends: DAY + HOUR, occurrences }]);
    expect(health).toMatchObject({ alarms: 35, intervals: 6, peak: 11 });
    expect(health.floods).toEqual([
      { begins: DAY + 10 * MINUTE, lasting: 30 * MINUTE, alarms: 26, peak: 11 },
    ]);
    // Three of the six intervals.
    const { rows } = healthTable(health, { count: 0, lasting: 0 });
    expect(rows).toContainEqual(["time in floods", "50 %", "under 1 % of it"]);
  });

  test("is not 10, 10, 10: that is not more than ten", () => {
    expect(floodsIn([10, 10, 10], 0)).toEqual([]);
  });

  test("lasts no longer than the run in which it came", () => {
    const occurrences = Array.from({ length: 11 }, (_, i) => occurrence(i, null, `tag-${i}`));
    const health = healthOf([{ begins: 0, ends: 4 * MINUTE, occurrences }]);
    expect(health.floods).toMatchObject([{ begins: 0, lasting: 4 * MINUTE, alarms: 11 }]);
    const { rows } = healthTable(health, { count: 0, lasting: 0 });
    expect(rows).toContainEqual(["time in floods", "100 %", "under 1 % of it"]);
  });

  test("may still last when the recording ends, and come twice", () => {
    expect(floodsIn([11, 4, 12, 5], HOUR).map(({ begins, lasting }) => [begins, lasting])).toEqual([
      [HOUR, 10 * MINUTE],
      [HOUR + 20 * MINUTE, 20 * MINUTE],
    ]);
  });
});

// As self-audits of ANSI/ISA-18.2 have it: active and clear again three times or more in one minute.
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

  test("is looked for in any minute, and says the most in one", () => {
    expect(chattering([0, 1], [55, 56], [58, 59], [80, 81], [114, 115])).toEqual([
      { name: "low, port", times: 4 },
    ]);
  });

  test("is of one alarm: three that come once each do not chatter", () => {
    const { chattering: found } = healthOf([{
      begins: 0,
      ends: HOUR,
      occurrences: ["a", "b", "c"].map((tag) => occurrence(SECOND, 2 * SECOND, tag)),
    }]);
    expect(found).toEqual([]);
  });

  test("is within one run: days that are simulated or copied were all at the same time", () => {
    const run = { begins: 0, ends: HOUR, occurrences: [occurrence(SECOND, 2 * SECOND)] };
    expect(healthOf([run, run, run]).chattering).toEqual([]);
  });

  test("is not three times in more than that, nor twice, nor one that stays", () => {
    expect(chattering([10, 12], [30, 31], [60, 70.1])).toEqual([]);
    expect(chattering([10, 12], [30, 31])).toEqual([]);
    expect(chattering([10, 12], [30, 31], [50, null])).toEqual([]);
  });
});

// As self-audits of ANSI/ISA-18.2 have it: in alarm without a break for more than 24 hours.
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

test("what a run leaves standing for the next goes on standing, and is no alarm of it", () => {
  const run = (begins: number, returned: number | null, isOld: boolean) => {
    const one = occurrence(begins, returned);
    const lists = isOld ? { stood: [one], occurrences: [] } : { occurrences: [one] };
    return { begins, ends: begins + 20 * HOUR, ...lists };
  };
  const [first, second, third] = [0, 10 * DAY, 20 * DAY];
  const goingOn = healthOf([run(first, null, false), run(second, second + HOUR * 5, true)]);
  expect(goingOn).toMatchObject({ alarms: 1, standing: [{ lasting: 25 * HOUR }] });
  const anew = healthOf([
    run(first, null, false),
    run(second, null, false),
    run(third, null, true),
  ]);
  expect(anew).toMatchObject({ alarms: 2, standing: [{ lasting: 40 * HOUR }] });
});

// ANSI/ISA-18.2, table 7 (from memory), has the share of the ten most frequent of all alarms.
test("the ten most frequent stand first, with their share of all, and no eleventh", () => {
  const occurrences = Array.from({ length: 12 }, (_, i) => i + 1).flatMap((times) =>
    Array.from({ length: times }, () => occurrence(1, 2, `tag-${String(times).padStart(2, "0")}`))
  );
  const health = healthOf([{ begins: 0, ends: DAY, occurrences }]);
  expect(health.alarms).toBe(78);
  expect(health.frequent.map(({ name, alarms }) => [name, alarms])).toEqual(
    [12, 11, 10, 9, 8, 7, 6, 5, 4, 3].map((
      times,
    ) => [`tag-${String(times).padStart(2, "0")}, port`, times]),
  );
  const { frequent } = healthTable(health, { count: 0, lasting: 0 });
  expect(frequent[0]).toEqual(["tag-12, port", "12", "15 %"]);
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
