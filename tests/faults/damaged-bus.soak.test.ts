import { expect, test } from "vitest";
import { MOST_DEVICES } from "../../src/nmea2000/devices.ts";
import { MOST_UNKNOWN } from "../../src/nmea2000/unknown-pgns.ts";
import { feedDamagedTalk, feedRandomFrames } from "../support/damaged-bus-runs.ts";

const FRAMES = 10_000_000;
const seed = Date.now() % 2 ** 31;

test(`ten million frames of anything, seed ${seed}`, () => {
  const { devices, unknown, open } = feedRandomFrames(FRAMES, seed);
  expect(devices).toBeLessThanOrEqual(MOST_DEVICES);
  expect(unknown).toBeLessThanOrEqual(MOST_UNKNOWN);
  expect(open).toBe(0);
});

test(`ten million damaged frames, seed ${seed}`, () => {
  expect(feedDamagedTalk(FRAMES, seed).mixed).toEqual([]);
});
