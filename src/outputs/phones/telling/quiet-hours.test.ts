import { expect, test } from "vitest";
import { HOUR, MINUTE, parseIsoTime, SECOND } from "../../../ground/time.ts";
import { quietFor } from "./quiet-hours.ts";

const night = { from: 22 * 60, to: 7 * 60, holds: [] };
const at = (text: string) => parseIsoTime(text) ?? 0;

test.each([
  ["2026-06-14T20:59:59Z", 0],
  ["2026-06-14T21:00:00Z", 9 * HOUR],
  ["2026-06-15T05:59:30Z", 30 * SECOND],
  ["2026-06-15T06:00:00Z", 0],
  // In winter London's clock is the universal one.
  ["2026-12-14T21:30:00Z", 0],
  ["2026-12-14T22:30:00Z", 8 * HOUR + 30 * MINUTE],
])("at %s a night by London's clock still lasts %s µs", (time, length) => {
  expect(quietFor(night, at(time), "Europe/London")).toBe(length);
});

test("quiet hours may lie within one day", () => {
  const siesta = { from: 13 * 60, to: 15 * 60, holds: [] };
  expect(quietFor(siesta, at("2026-12-14T14:00:00Z"), "Europe/London")).toBe(HOUR);
  expect(quietFor(siesta, at("2026-12-14T12:59:00Z"), "Europe/London")).toBe(0);
  expect(quietFor(siesta, at("2026-12-14T15:00:00Z"), "Europe/London")).toBe(0);
});

test("a computer that does not know the time has no quiet hours", () => {
  expect(quietFor(night, at("1970-01-01T23:00:00Z"), "Europe/London")).toBe(0);
});
