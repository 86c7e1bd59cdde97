import fc from "fast-check";
import { beforeEach, describe, expect, test } from "vitest";
import { Quality, Reason } from "../../boat/quality.ts";
import { type SignalFacts, SignalTable } from "../../boat/signal-table.ts";
import { type Micros, MINUTE, SECOND } from "../../ground/time.ts";
import { ReportByException, usualDeadband } from "./report-by-exception.ts";

const facts: SignalFacts = {
  name: "engine/port/speed",
  group: "engine",
  subject: "port",
  quantity: "speed",
  unit: "1/min",
  decimals: 2,
  words: null,
  span: null,
  derived: false,
};

let table: SignalTable;
let report: ReportByException;
let speed: number;

beforeEach(() => {
  table = new SignalTable();
  speed = table.intern(facts);
  report = new ReportByException(table, {
    fastest: SECOND,
    slowest: MINUTE,
    deadbandOf: () => 10,
  });
});

/** Sets the value at a time and returns whether it is worth a message then. */
function at(now: Micros, value: number, quality: Quality = Quality.good): boolean {
  table.set(speed, value, quality, quality === Quality.bad ? Reason.notHeard : Reason.none, now);
  return turn(now);
}

function turn(now: Micros): boolean {
  report.judge(table.touched, table.touchedCount, now);
  table.clearTouched();
  return report.dueCount > 0;
}

describe("a signal", () => {
  test("is sent when it is first heard", () => {
    expect(at(1, 700)).toBe(true);
  });

  test("is not sent for a change inside its deadband, however long it stays", () => {
    at(0, 700);
    expect(at(5 * SECOND, 710)).toBe(false);
    expect(turn(30 * SECOND)).toBe(false);
  });

  test("is sent for a change beyond its deadband", () => {
    at(0, 700);
    expect(at(5 * SECOND, 710.1)).toBe(true);
  });

  test("creeps no further than its deadband from what was said", () => {
    at(0, 700);
    expect(at(2 * SECOND, 706)).toBe(false);
    expect(at(4 * SECOND, 712)).toBe(true);
  });

  test("is sent at most every `fastest`, and its last change when that ends", () => {
    at(0, 700);
    expect(at(SECOND / 4, 800)).toBe(false);
    expect(at(SECOND / 2, 900)).toBe(false);
    expect(turn(SECOND - 1)).toBe(false);
    expect(turn(SECOND)).toBe(true);
    expect(report.due[0]).toBe(speed);
    expect(turn(2 * SECOND)).toBe(false);
  });

  test("that has come back before `fastest` ends needs no message", () => {
    at(0, 700);
    at(SECOND / 4, 800);
    at(SECOND / 2, 700);
    expect(turn(SECOND)).toBe(false);
  });

  test("is sent at least every `slowest`", () => {
    at(0, 700);
    expect(turn(MINUTE - 1)).toBe(false);
    expect(turn(MINUTE)).toBe(true);
    expect(turn(2 * MINUTE)).toBe(true);
  });

  test("is sent at once when its quality changes, and when it comes back", () => {
    at(0, 700);
    expect(at(1, NaN, Quality.bad)).toBe(true);
    expect(at(2, NaN, Quality.bad)).toBe(false);
    expect(at(3, 700)).toBe(true);
    expect(at(4, 700, Quality.uncertain)).toBe(true);
  });
});

test("after a reconnect everything is sent, also what was never heard", () => {
  const second = table.intern({ ...facts, name: "engine/starboard/speed" });
  at(0, 700);
  report.forget();
  report.judgeAll(1);
  expect([...report.due.subarray(0, report.dueCount)]).toEqual([speed, second]);
  expect(turn(2)).toBe(false);
});

test("changes that were missed are made up for, and nothing else is sent", () => {
  const second = table.intern({ ...facts, name: "engine/starboard/speed" });
  at(0, 700);
  report.judgeAll(0);
  table.set(second, 900, Quality.good, Reason.none, 1);
  table.clearTouched();
  report.judgeAll(2 * SECOND);
  expect([...report.due.subarray(0, report.dueCount)]).toEqual([second]);
});

test("a table that grows takes its new signals along", () => {
  at(0, 700);
  for (let i = 0; i < 1_000; i++) {
    const signal = table.intern({ ...facts, name: `engine/${i}/speed` });
    table.set(signal, i, Quality.good, Reason.none, 1);
  }
  expect(turn(1)).toBe(true);
  expect(report.dueCount).toBe(1_000);
});

test("whatever the values do, the broker is never further off than the deadband for `fastest`", () => {
  const step = fc.record({
    wait: fc.integer({ min: 1, max: 2 * SECOND }),
    value: fc.integer({ min: 0, max: 60 }),
  });
  fc.assert(fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
    const own = new SignalTable();
    const signal = own.intern(facts);
    const byException = new ReportByException(own, {
      fastest: SECOND,
      slowest: MINUTE,
      deadbandOf: () => 10,
    });
    let now = 0;
    let sent = NaN;
    let sentAt = -Infinity;
    let offSince = Infinity;
    for (const { wait, value } of steps) {
      now += wait;
      own.set(signal, value, Quality.good, Reason.none, now);
      byException.judge(own.touched, own.touchedCount, now);
      own.clearTouched();
      if (byException.dueCount > 0) {
        if (now - sentAt < SECOND) return false;
        sent = value;
        sentAt = now;
      }
      offSince = Math.abs(value - sent) > 10 ? Math.min(offSince, now) : Infinity;
      if (offSince < Infinity && now - sentAt >= SECOND) return false;
    }
    return true;
  }));
});

test("the usual deadband is half a percent of the range, else what can be seen, and none for words", () => {
  expect(usualDeadband({ ...facts, span: 400_000, decimals: 0 })).toBe(2_000);
  expect(usualDeadband({ ...facts, span: null, decimals: 2 })).toBe(0.005);
  expect(usualDeadband({ ...facts, span: 1, decimals: 0 })).toBe(0.5);
  expect(usualDeadband({ ...facts, words: new Map([[0, "off"]]) })).toBe(0);
});
