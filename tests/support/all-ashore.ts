import { expect } from "vitest";
import type { MinuteRecord } from "../../src/store/minute-record.ts";
import type { AfterKillings } from "./run-killings.ts";

/** Whatever was killed in between: what was kept aboard is ashore, once, in order and unbroken. */
export function expectAllAshore({ aboard, ashore, told, passed, killed }: AfterKillings): void {
  const numbers = aboard.events.map((_, i) => i + 1);
  expect(aboard.events.map(({ number }) => number)).toEqual(numbers);
  expect(told.map(({ number }) => number)).toEqual(numbers);
  expect(ashore.events.map(({ change }) => change)).toEqual(
    aboard.events.map(({ change }) => change),
  );
  // One alarm's story, without a break: no change of it is missing between two that are there.
  const story = told.filter(({ tag }) => tag === "house-voltage-low");
  expect(story.map(({ from }) => from)).toEqual([
    "normal",
    ...story.slice(0, -1).map(({ to }) => to),
  ]);
  const raised = story.filter(({ to }) => to === "unacknowledged");
  expect(raised.map(({ occurrence }) => occurrence)).toEqual(raised.map((_, i) => i + 1));

  expect(ashore.minutes.map(asSent)).toEqual(aboard.minutes.map(asSent));
  const kept = new Set(aboard.minutes.map(({ minute }) => minute));
  expect(passed.filter((minute) => !kept.has(minute) && !killed.has(minute))).toEqual([]);
}

/** SenML does not say to how many decimals its values are rounded. */
function asSent(record: MinuteRecord): object {
  return { ...record, decimals: undefined };
}
