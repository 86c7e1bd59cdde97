import { AshoreBoat } from "../../src/commands/shore/ashore-boat.ts";
import type { Clock } from "../../src/ground/clock.ts";
import type { BrokerSettings } from "../../src/outputs/mqtt/broker-connection.ts";
import type { BrokerState } from "../../src/outputs/mqtt/broker-link.ts";
import { ShoreLink } from "../../src/outputs/mqtt/shore/shore-link.ts";
import { MemoryStore } from "../../src/store/memory-store.ts";

/** The shore side of one boat in this process, with a clock that moves when it is told to. */
export class ShoreSide {
  private constructor(
    readonly boat: AshoreBoat,
    readonly link: ShoreLink,
    /** Where *boat not heard* is kept. */
    readonly shore: MemoryStore,
    readonly said: readonly string[],
    readonly states: readonly BrokerState[],
  ) {}

  static async start(
    broker: string | BrokerSettings,
    clock: Clock,
    state?: string,
    key?: string,
  ): Promise<ShoreSide> {
    const shore = new MemoryStore("5511223344556677");
    const said: string[] = [];
    const states: BrokerState[] = [];
    const boat = await AshoreBoat.open({
      name: "hazel-comfort",
      root: "sternfast/",
      state,
      folder: Deno.cwd(),
      shore,
      notHeard: { name: "normal", occurrence: 0 },
      clock,
      key,
      send: (topic, payload) => link.send("hazel-comfort", topic, payload),
      onKept: () => {},
      say: (sentence) => said.push(sentence),
    });
    const link: ShoreLink = new ShoreLink({
      broker: typeof broker === "string" ? { url: broker } : broker,
      root: "sternfast/",
      boat: "hazel-comfort",
      clientId: "shore",
      clock,
      random: () => 1,
      onState: (now) => states.push(now),
      onReceived: (_, message) => boat.take(message),
    });
    return new ShoreSide(boat, link, shore, said, states);
  }

  get connected(): boolean {
    return this.states.at(-1)?.state === "connected";
  }

  tick(): void {
    this.link.tick();
    this.boat.tick();
  }

  /** Occurrences of the boat's events that are kept, in the order of their coming. */
  async occurrences(): Promise<number[]> {
    await this.boat.follower.idle();
    return (await this.boat.store.eventsAfter(0, 1_000_000))
      .map(({ change }) => change.occurrence);
  }

  /** Minutes of a signal's history that are kept, counted from the first. */
  async minutes(name: string, from: number, to: number): Promise<number[]> {
    await this.boat.follower.idle();
    return (await this.boat.store.history.records(name, from, to))
      .map(({ minute }) => minute - from);
  }

  async stop(): Promise<void> {
    await this.link.stop();
    await this.boat.close();
  }
}
