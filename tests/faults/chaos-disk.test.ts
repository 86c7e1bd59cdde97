import { describe, expect, onTestFinished, test } from "vitest";
import { MemoryStore } from "../../src/store/memory-store.ts";
import type { Commit, Turn } from "../../src/store/store.ts";
import { openStore } from "../../src/store/worker-store.ts";
import { Chaos, print } from "../support/chaos.ts";
import { hasMosquitto, Mosquitto } from "../support/mosquitto.ts";

/** A folder of so many kilobytes, where this computer lets us make one; undefined where not. */
function smallFolder(kilobytes: number): string | undefined {
  const folder = Deno.makeTempDirSync({ prefix: "sternfast-small-" });
  try {
    const { success } = new Deno.Command("mount", {
      args: ["-t", "tmpfs", "-o", `size=${kilobytes}k`, "tmpfs", folder],
      stderr: "null",
    }).outputSync();
    if (success) return folder;
  } catch { /* no mount here */ }
  Deno.removeSync(folder);
  return undefined;
}

const small = hasMosquitto() ? smallFolder(600) : undefined;

describe.skipIf(!hasMosquitto())("with a disk that fails", () => {
  test.skipIf(small === undefined)(
    "a full one stops nothing, and all is kept and sent once there is room",
    async () => {
      if (small === undefined) return;
      onTestFinished(() => {
        new Deno.Command("umount", { args: [small] }).outputSync();
        Deno.removeSync(small);
      });
      const ballast = `${small}/ballast`;
      const told: (string | null)[] = [];
      const store = await openStore(small, { onTrouble: (trouble) => told.push(trouble) });
      onTestFinished(() => store.close());
      const chaos = await begun(store);
      chaos.happen(5);
      await chaos.until(() => chaos.isAshore);

      fill(ballast);
      chaos.happen(400);
      await chaos.until(() => told.length > 0);
      expect(told[0]).toContain("The state folder cannot be written now");
      // The events' own numbers go on, and so does the boat: nothing waits for the disk.
      expect(store.lastNumber).toBe(405);
      chaos.happen(5);

      Deno.removeSync(ballast);
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

/** Writes until there is no room. */
function fill(file: string): void {
  const bytes = new Uint8Array(1024);
  using target = Deno.openSync(file, { create: true, append: true });
  try {
    for (;;) if (target.writeSync(bytes) < bytes.length) return;
  } catch { /* it is full */ }
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
