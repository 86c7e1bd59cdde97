import { expect, test } from "vitest";
import type { MinuteRecord } from "../../store/minute-record.ts";
import { runsOf } from "./day-facts.ts";

const minute = (minute: number, max: number): MinuteRecord => ({
  ...{ name: "bilge/aft/pump", unit: "1", decimals: 0, length: 1, count: 60 },
  ...{ minute, min: 0, mean: max / 2, max },
});

test("a pump that ran over several minutes ran once", () => {
  expect(runsOf([minute(1, 0), minute(2, 1), minute(3, 1), minute(4, 0), minute(9, 1)])).toBe(2);
});

test("minutes that nobody saw end a run", () => {
  expect(runsOf([minute(2, 1), minute(7, 1)])).toBe(2);
});

test("a pump that never ran did not run", () => {
  expect(runsOf([minute(1, 0), minute(2, 0)])).toBe(0);
});
