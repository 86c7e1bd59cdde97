import { onTestFinished, vi } from "vitest";
import { SECOND } from "../../src/ground/time.ts";
import { minuteOf } from "../../src/store/history-plan.ts";
import type { Store } from "../../src/store/store.ts";
import { BASE, MORNING, MqttBoat, RAISED } from "./mqtt-boat.ts";
import { ShoreSide } from "./shore-side.ts";

export const VOLTAGE = "battery/house/voltage";

/** A boat, a broker between, and the shore that follows; time goes on only while somebody waits. */
export class Chaos {
  readonly boat: MqttBoat;
  events = 0;
  minutes = 0;
  readonly firstMinute = minuteOf(MORNING) + 1;
  #shore: ShoreSide | undefined;

  constructor(store?: Store) {
    this.boat = new MqttBoat(store);
  }

  get shore(): ShoreSide {
    if (this.#shore === undefined) throw new Error("call begin first");
    return this.#shore;
  }

  /** @param url how the boat reaches the broker @param shoreUrl how the shore does */
  async begin(url: string, shoreUrl = url, more = {}): Promise<void> {
    await this.boat.connect(url, BASE, { broker: { url, keepAlive: 1 }, ...more });
    const clock = { steady: () => this.boat.now, wall: () => this.boat.now };
    this.#shore = await ShoreSide.start(shoreUrl, clock);
    onTestFinished(async () => {
      await this.boat.vanish();
      await this.shore.stop();
    });
  }

  /** Lets time go on, a second a turn, until something is so. */
  async until(what: () => boolean, length = SECOND): Promise<void> {
    await vi.waitUntil(() => {
      this.boat.turn(length);
      this.shore.tick();
      return what();
    }, { timeout: 50_000, interval: 4 });
  }

  /** Something happens aboard: events, each with an occurrence of its own. */
  happen(count: number): void {
    for (let i = 0; i < count; i++) {
      const change = { ...RAISED, occurrence: ++this.events, time: this.boat.now };
      this.boat.store.commit({ changes: [change] });
    }
  }

  /** Minutes of one signal, one after another. */
  async pass(minutes: number): Promise<void> {
    for (let i = 0; i < minutes; i++) {
      const minute = this.firstMinute + this.minutes++;
      await this.boat.store.history.add([{
        name: VOLTAGE,
        unit: "V",
        decimals: 2,
        minute,
        length: 1,
        count: 60,
        min: 12,
        mean: 12.5,
        max: 13,
      }], false);
    }
  }

  /** Everything that happened is ashore, and the boat knows. */
  get isAshore(): boolean {
    const { outbox, history } = this.boat.outlet;
    return outbox.ashore === this.events && history.ashore === history.parts.history.lastSheet;
  }

  /** What is ashore: events, how many of them are out of place, and minutes that are missing. */
  async found(): Promise<{ events: number; misplaced: number; minutes: number }> {
    const occurrences = await this.shore.occurrences();
    const last = this.firstMinute + this.minutes;
    return {
      events: occurrences.length,
      misplaced: occurrences.filter((occurrence, i) => occurrence !== i + 1).length,
      minutes: (await this.shore.minutes(VOLTAGE, this.firstMinute, last)).length,
    };
  }

  get made() {
    return { events: this.events, misplaced: 0, minutes: this.minutes };
  }
}

/** Counts for a person who reads the test's output. */
export function print(line: string): void {
  Deno.stderr.writeSync(new TextEncoder().encode(`    ${line}\n`));
}
