import { describe, expect, onTestFinished, test } from "vitest";
import { MemoryStore } from "../../src/store/memory-store.ts";
import type { Commit, Turn } from "../../src/store/store.ts";
import { openStore } from "../../src/store/worker-store.ts";
import { Chaos, print } from "../support/chaos.ts";
import { hasMosquitto, Mosquitto } from "../support/mosquitto.ts";
import { SmallFolder } from "../support/small-folder.ts";

const small = hasMosquitto() ? SmallFolder.make(600) : undefined;

describe.skipIf(!hasMosquitto())("with a disk that fails", () => {
  test.skipIf(small === undefined)(
    "a full one stops nothing, and all is kept and sent once there is room",
    async () => {
      if (small === undefined) return;
      onTestFinished(() => small.remove());
      const told: (string | null)[] = [];
      const store = await openStore(small.path, { onTrouble: (trouble) => told.push(trouble) });
      onTestFinished(() => store.close());
      const chaos = await begun(store);
      chaos.happen(5);
      await chaos.until(() => chaos.isAshore);

      small.fill();
      chaos.happen(400);
      await chaos.until(() => told.length > 0);
      expect(told[0]).toContain("The state folder cannot be written now");
      // The events' own numbers go on, and so does the boat: nothing waits for the disk.
      expect(store.lastNumber).toBe(405);
      chaos.happen(5);

      small.empty();
      await chaos.until(() => chaos.isAshore);
      expect(told.at(-1)).toBeNull();
      const found = await chaos.found();
      print(`a full disk: ${JSON.stringify(found)}`);
      expect(found).toEqual(chaos.made);
    },
  );

  test("one that is slow for seconds makes events late, not lost, and nothing else waits", async () => {
    const store = new SlowStore("00112233aabbccdd");
    const chaos = await begun(store);
    store.slow();
    chaos.happen(50);
    await chaos.pass(15);
    let turns = 0;
    await chaos.until(() => ++turns === 100);
    expect(chaos.boat.outlet.outbox.mark).toBe(0);
    expect(chaos.boat.connected).toBe(true);
    store.goOn();
    await chaos.until(() => chaos.isAshore);
    expect(await chaos.found()).toEqual(chaos.made);
  });
});

async function begun(store: ConstructorParameters<typeof Chaos>[0]): Promise<Chaos> {
  const broker = await Mosquitto.start();
  onTestFinished(() => broker.stop());
  const chaos = new Chaos(store);
  await chaos.begin(broker.url);
  await chaos.until(() => chaos.boat.connected && chaos.shore.connected);
  return chaos;
}

/** A store on a card that now and then takes its time: nothing is saved or read until it goes on. */
class SlowStore extends MemoryStore {
  #gate = Promise.resolve();
  #open = (): void => {};

  slow(): void {
    this.#gate = new Promise((resolve) => this.#open = resolve);
  }

  goOn(): void {
    this.#open();
  }

  override commit(turn: Turn): Commit {
    const { events } = super.commit(turn);
    return { events, saved: this.#gate };
  }

  override async eventsAfter(number: number, limit: number) {
    await this.#gate;
    return await super.eventsAfter(number, limit);
  }
}
