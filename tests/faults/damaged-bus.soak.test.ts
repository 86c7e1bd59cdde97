import { expect, test } from "vitest";
import { MOST_CARRIERS } from "../../src/boat/carriers.ts";
import { MOST_SIGNALS } from "../../src/boat/signal-maker.ts";
import { MOST_BUSES } from "../../src/bus/bus-names.ts";
import { MOST_DEVICES } from "../../src/nmea2000/devices.ts";
import { MOST_UNKNOWN } from "../../src/nmea2000/unknown-pgns.ts";
import { feedDamagedTalk, feedRandomFrames } from "../support/damaged-bus-runs.ts";
import { feedDamagedRecordings } from "../support/damaged-recordings.ts";

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

test(`ten million frames of damaged recordings, seed ${seed}`, async () => {
  const met = await feedDamagedRecordings(FRAMES, seed);
  expect(met.wrong).toEqual([]);
  expect(met.buses).toBeLessThanOrEqual(MOST_BUSES);
  expect(met.signals).toBeLessThanOrEqual(MOST_SIGNALS + MOST_CARRIERS);
  expect(met.devices).toBeLessThanOrEqual(MOST_DEVICES);
  expect(met.unknown).toBeLessThanOrEqual(MOST_UNKNOWN);
});
