import { describe, expect, test } from "vitest";
import { MINUTE, parseIsoTime, SECOND } from "../../ground/time.ts";
import { instantOf, parseExpectedTime, sayClock, sayOffset } from "./expected-time.ts";

const begins = parseIsoTime("2026-06-14T10:00:00Z") ?? 0;
const base = { begins, marks: new Map([["started", begins + MINUTE]]), clockSettings: [] };

describe("an expected time", () => {
  test.each([
    ["2026-06-14T10:12:03Z", 12 * 60 + 3],
    ["2026-06-14T12:12:03+02:00", 12 * 60 + 3],
    ["0:14:00", 14 * 60],
    ["26:00:00.5", 26 * 3600 + 0.5],
    ["started", 60],
    ["started + 310 s", 370],
    ["started + 1 h 5 min", 60 + 3900],
    ["started - 5 s", 55],
  ])("%s lies %d s after the recording's start", (text, seconds) => {
    const time = parseExpectedTime(text);
    expect(time && instantOf(time, base)).toBe(begins + seconds * SECOND);
  });

  test.each(["", "14", "14:00", "0:60:00", "soon after", "started + 5", "started 5 s", "Started"])(
    "is not what %j says",
    (text) => expect(parseExpectedTime(text)).toBeUndefined(),
  );

  test("is not known while its mark was not reached", () => {
    const time = parseExpectedTime("stopped + 1 s");
    expect(time && instantOf(time, base)).toBeUndefined();
  });
});

describe("times are said", () => {
  test("since a start, cut to thousandths", () => {
    expect(sayOffset(0)).toBe("0:00:00");
    expect(sayOffset(3_661_234_999)).toBe("1:01:01.234");
    expect(sayOffset(1_500_000)).toBe("0:00:01.5");
    expect(sayOffset(1_000_000, 3)).toBe("0:00:01.000");
  });

  test("by the clock, with the day only where it is another", () => {
    expect(sayClock(begins + 4 * MINUTE, begins)).toBe("10:04");
    expect(sayClock(begins + 6 * MINUTE + 40 * SECOND, begins)).toBe("10:06:40");
    expect(sayClock(begins + 24 * 60 * MINUTE, begins)).toBe("2026-06-15 10:00");
  });
});
