import { expect, test } from "vitest";
import { MOST_CARRIERS } from "../../src/boat/carriers.ts";
import { MOST_SIGNALS } from "../../src/boat/signal-maker.ts";
import { MOST_BUSES } from "../../src/bus/bus-names.ts";
import { MOST_DEVICES } from "../../src/nmea2000/devices.ts";
import { MOST_SESSIONS } from "../../src/nmea2000/fast-packet-sessions.ts";
import { MOST_TRANSPORTS } from "../../src/nmea2000/iso-transport.ts";
import { MOST_UNKNOWN } from "../../src/nmea2000/unknown-pgns.ts";
import { feedDamagedTalk, feedRandomFrames } from "../support/damaged-bus-runs.ts";
import { feedDamagedRecordings } from "../support/damaged-recordings.ts";

test("200,000 frames of anything are read without a crash, and nothing grows without end", () => {
  const { sessions, devices, unknown, messages, open } = feedRandomFrames(200_000, 60928);
  expect(messages).toBeGreaterThan(50_000);
  expect(sessions).toBeGreaterThan(0);
  expect(sessions).toBeLessThanOrEqual(MOST_SESSIONS + MOST_TRANSPORTS);
  expect(devices).toBeGreaterThan(0);
  expect(devices).toBeLessThanOrEqual(MOST_DEVICES);
  expect(unknown).toBe(MOST_UNKNOWN);
  expect(open).toBe(0);
});

test("200,000 frames with holes, echoes and cuts give whole messages and never a mixed one", () => {
  const { whole, mixed, lost } = feedDamagedTalk(200_000, 127489);
  expect(mixed).toEqual([]);
  expect(whole).toBeGreaterThan(1000);
  expect(lost).toBeGreaterThan(1000);
});

test("200,000 frames of damaged recordings are read into the whole watch, and no value is wrongly good", async () => {
  const met = await feedDamagedRecordings(200_000, 127506);
  expect(met.wrong).toEqual([]);
  expect(met.malformed).toBeGreaterThan(1_000);
  expect(met.early).toBeGreaterThan(10);
  expect(met.buses).toBeLessThanOrEqual(MOST_BUSES);
  expect(met.signals).toBeLessThanOrEqual(MOST_SIGNALS + MOST_CARRIERS);
  expect(met.devices).toBeLessThanOrEqual(MOST_DEVICES);
  expect(met.unknown).toBeLessThanOrEqual(MOST_UNKNOWN);
});
