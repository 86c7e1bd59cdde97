import { expect, test } from "vitest";
import { MOST_DEVICES } from "../../src/nmea2000/devices.ts";
import { MOST_SESSIONS } from "../../src/nmea2000/fast-packet-sessions.ts";
import { MOST_TRANSPORTS } from "../../src/nmea2000/iso-transport.ts";
import { MOST_UNKNOWN } from "../../src/nmea2000/unknown-pgns.ts";
import { feedDamagedTalk, feedRandomFrames } from "../support/damaged-bus-runs.ts";

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
