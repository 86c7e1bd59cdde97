import { expect, onTestFinished, test, vi } from "vitest";
import { MILLISECOND, MINUTE } from "../../src/ground/time.ts";
import { MemoryStore } from "../../src/store/memory-store.ts";
import { minuteOf } from "../../src/store/history-plan.ts";
import { keptIn } from "../support/both-sides.ts";
import { hasMosquitto, Mosquitto } from "../support/mosquitto.ts";
import { MORNING, MqttBoat } from "../support/mqtt-boat.ts";
import { ownFolder } from "../support/own-folder.ts";
import { start } from "../support/sternfast.ts";

const waiting = { timeout: 30_000, interval: 20 };
const VOLTAGE = "battery/house/voltage";
const FIRST = minuteOf(MORNING);

/** A boat with so many events and as many minutes, and a value of her own. */
async function boatAt(url: string, name: string, epoch: string, count: number): Promise<MqttBoat> {
  const boat = new MqttBoat(new MemoryStore(epoch));
  boat.now = Date.now() * MILLISECOND;
  await boat.connect(url, `sternfast/${name}/`);
  onTestFinished(() => boat.vanish());
  boat.hear("engine/port/oil-pressure", count * 1_000);
  for (let i = 0; i < count; i++) {
    await boat.change({ occurrence: i + 1 });
    const minute = { name: VOLTAGE, unit: "V", decimals: 2, length: 1, count: 60 } as const;
    const value = { min: count, mean: count, max: count };
    await boat.store.history.add([{ ...minute, minute: FIRST + i, ...value }], false);
  }
  return boat;
}

test.skipIf(!hasMosquitto())(
  "the shore follows every boat that it hears of, each with a store and a page of her own",
  async () => {
    const broker = await Mosquitto.start();
    onTestFinished(() => broker.stop());
    const folder = ownFolder();
    const shore = await start(
      ["ashore", "--broker", broker.url, "--state", "home", "--page", "127.0.0.1:0"],
      { folder },
    );
    await shore.until(/Connected to/);
    const boats = [
      await boatAt(broker.url, "hazel-comfort", "00112233aabbccdd", 20),
      await boatAt(broker.url, "grey-gull", "99112233aabbccdd", 35),
    ];
    await vi.waitUntil(() => {
      for (const boat of boats) {
        boat.now = Date.now() * MILLISECOND + 20 * MINUTE;
        boat.turn();
      }
      return boats.every(({ outlet, store }) => outlet.outbox.ashore === store.lastNumber) &&
        boats.every(({ outlet }) => outlet.history.ashore >= 15);
    }, waiting);

    const said = await shore.until(/page of grey-gull is at/);
    for (const [name, pressure] of [["hazel-comfort", "20"], ["grey-gull", "35"]]) {
      const url = new RegExp(`page of ${name} is at (\\S+)`).exec(said)?.[1] ?? "";
      await vi.waitUntil(async () => (await (await fetch(url)).text()).includes(pressure), waiting);
    }
    shore.interrupt();
    expect((await shore.finished()).code).toBe(130);
    for (const [name, count] of [["hazel-comfort", 20], ["grey-gull", 35]] as const) {
      const kept = await keptIn(`${folder}/home/boats/${name}`, VOLTAGE, FIRST, FIRST + 100);
      expect(kept.events.map(({ change }) => change.occurrence)).toEqual(
        Array.from({ length: count }, (_, i) => i + 1),
      );
      expect(new Set(kept.minutes.map((minute) => "max" in minute && minute.max)))
        .toEqual(new Set([count]));
    }
  },
);
