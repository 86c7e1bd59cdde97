import { z } from "zod";
import type { AlarmStatus } from "../../alarms/change.ts";
import type { Clock } from "../../ground/clock.ts";
import { TOPIC_NAME } from "../../ground/topic-name.ts";
import type { Received } from "../../outputs/mqtt/broker-connection.ts";
import { NOT_HEARD, type NotHeardState } from "../../outputs/mqtt/shore/boat-heard.ts";
import type { Store } from "../../store/store.ts";
import { AshoreBoat } from "./ashore-boat.ts";

export interface AshoreBoatsParts {
  /** What stands before a boat's name: `sternfast/`. */
  readonly root: string;
  /** Only these; every one that is heard of when empty. */
  readonly names: readonly string[];
  readonly state: string | undefined;
  readonly folder: string;
  readonly shore: Store;
  readonly clock: Clock;
  readonly key?: string;
  readonly send: (boat: string, topic: string, payload: string) => boolean;
  /** A change of *boat not heard* was kept. */
  readonly onKept: () => void;
  readonly onBoat: (boat: AshoreBoat) => void;
  readonly say: (sentence: string) => void;
}

/** A broker that makes boats up must not fill the disk with them. */
const MOST_BOATS = 100;

z.config({ jitless: true });
const notHeardState = z.object({
  name: z.enum(["normal", "unacknowledged", "acknowledged", "returned-unacknowledged"]),
  occurrence: z.int().min(0),
});
const NEVER: NotHeardState = { name: "normal", occurrence: 0 };

/** The boats that the shore follows; each is opened when it is first named or heard of. */
export class AshoreBoats {
  readonly #boats = new Map<string, Promise<AshoreBoat>>();
  readonly #open: AshoreBoat[] = [];

  private constructor(
    readonly parts: AshoreBoatsParts,
    readonly memory: ReadonlyMap<string, string>,
  ) {}

  static async open(parts: AshoreBoatsParts): Promise<AshoreBoats> {
    const boats = new AshoreBoats(parts, await parts.shore.documents("alarm-memory"));
    for (const name of parts.names) await boats.#boatOf(name);
    return boats;
  }

  async take(name: string, message: Received): Promise<void> {
    const { names } = this.parts;
    if (!TOPIC_NAME.test(name) || (names.length > 0 && !names.includes(name))) return;
    if (!this.#boats.has(name) && this.#boats.size >= MOST_BOATS) return;
    (await this.#boatOf(name)).take(message);
  }

  tick(): void {
    for (const boat of this.#open) boat.tick();
  }

  opened(name: string): AshoreBoat | undefined {
    return this.#open.find(({ parts }) => parts.name === name);
  }

  /** *Boat not heard* of every boat. */
  statuses(): AlarmStatus[] {
    return this.#open.map((boat) => boat.notHeardStatus());
  }

  async close(): Promise<void> {
    for (const boat of this.#open) await boat.close();
  }

  #boatOf(name: string): Promise<AshoreBoat> {
    const known = this.#boats.get(name);
    if (known !== undefined) return known;
    const opening = this.#openBoat(name);
    this.#boats.set(name, opening);
    return opening;
  }

  async #openBoat(name: string): Promise<AshoreBoat> {
    const { send, onBoat, ...parts } = this.parts;
    const boat = await AshoreBoat.open({
      ...parts,
      name,
      notHeard: this.#notHeardOf(name),
      send: (topic, payload) => send(name, topic, payload),
    });
    this.#open.push(boat);
    onBoat(boat);
    return boat;
  }

  #notHeardOf(name: string): NotHeardState {
    try {
      return notHeardState.parse(JSON.parse(this.memory.get(`${NOT_HEARD}/${name}`) ?? ""));
    } catch {
      return NEVER;
    }
  }
}
