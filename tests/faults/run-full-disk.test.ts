import { describe, expect, onTestFinished, test, vi } from "vitest";
import { DAY, MILLISECOND, SECOND } from "../../src/ground/time.ts";
import { BATTERY_BOAT, BATTERY_PERIOD, batteryLines, saidLow } from "../support/battery-story.ts";
import { print } from "../support/chaos.ts";
import { hasMosquitto, Mosquitto, Reader } from "../support/mosquitto.ts";
import { ownFolder } from "../support/own-folder.ts";
import { SmallFolder } from "../support/small-folder.ts";
import { start } from "../support/sternfast.ts";
import { firstTold } from "../support/told-events.ts";

const BEGINS = Math.floor(Date.now() * MILLISECOND / DAY) * DAY - DAY;
const EVENT = "sternfast/dora/event";
const small = hasMosquitto() ? SmallFolder.make(2_000) : undefined;

describe.skipIf(small === undefined)("run on a disk that is full", () => {
  test(
    "goes on judging, says so, and tells every event once there is room",
    { timeout: 120_000 },
    async () => {
      if (small === undefined) return;
      onTestFinished(() => small.remove());
      const broker = await Mosquitto.start();
      onTestFinished(() => broker.stop());
      const reader = await Reader.start(broker.port, EVENT);
      onTestFinished(() => reader.stop());
      const folder = ownFolder(BATTERY_BOAT);
      const files = ["--boat", "boat.yaml", "--rules", "rules.yaml", "--state", small.path];
      const boat = await start(["run", "-", "--json", "--broker", broker.url, ...files], {
        folder,
        input: "piped",
      });
      let periods = 0;
      const pass = async (count: number) => {
        for (const end = periods + count; periods < end; periods++) {
          await boat.type(batteryLines(BEGINS, periods * BATTERY_PERIOD, BATTERY_PERIOD));
        }
        const low = BEGINS + (periods * BATTERY_PERIOD - BATTERY_PERIOD / 2) * SECOND;
        await boat.until(saidLow(low));
      };

      await pass(5);
      small.fill();
      await pass(400);
      await boat.until(/The state folder cannot be written now/);
      await pass(5);
      const before = firstTold(reader, EVENT).length;
      small.empty();
      await boat.until(/The state folder can be written again/);
      // A battery that is low at the end has been told so, and has not returned.
      const made = 2 * periods - 1;
      await vi.waitUntil(() => firstTold(reader, EVENT).length === made, {
        timeout: 50_000,
        interval: 20,
      });
      print(`a full disk: ${before} of ${made} events told before there was room, all after`);
      expect(before).toBeLessThan(made);
      expect(firstTold(reader, EVENT).map(({ number }) => number)).toEqual(
        Array.from({ length: made }, (_, i) => i + 1),
      );
      boat.interrupt();
      expect((await boat.finished()).code).toBe(130);
    },
  );
});
