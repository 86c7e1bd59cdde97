import type { Boat } from "../../boat/boat.ts";
import type { Clock } from "../../ground/clock.ts";
import type { DeliveryStanding } from "../../outputs/phones/delivery/told-record.ts";
import type { Person } from "../settings/people-settings.ts";
import { openPhones, type PhonesOutlet } from "../watching/phones-opening.ts";
import type { PushDevices } from "../watching/push-devices.ts";
import type { AshoreBoat } from "./ashore-boat.ts";

export interface ShorePushParts {
  readonly people: readonly Person[];
  /** How the owner reads, and in which time zone. */
  readonly owner: Boat;
  readonly push: PushDevices;
  readonly clock: Clock;
  readonly say: (sentence: string) => void;
}

/**
 * Tells the devices that asked on the shore's page of every boat's alarms, from the events that the
 * shore keeps. Only by push messages: by every other way the boat tells people herself, and nobody
 * is to be told twice. The messages carry no links: only the boat can sign those.
 */
export class ShorePush {
  readonly #people: readonly Person[];
  readonly #opening: Promise<void>[] = [];
  /** By the boat's name. */
  readonly #open = new Map<string, PhonesOutlet>();

  constructor(readonly parts: ShorePushParts) {
    this.#people = parts.people
      .map((person) => ({ ...person, reach: person.reach.filter((way) => "push" in way) }))
      .filter(({ reach }) => reach.length > 0);
  }

  follow(boat: AshoreBoat): void {
    const { owner, push, clock, say } = this.parts;
    const { name } = boat.parts;
    const opening = openPhones({
      people: this.#people,
      boat: { ...owner, name },
      statuses: () => boat.alarms(),
      store: boat.store,
      push,
      clock,
      say,
    }).then((phones) => {
      this.#open.set(name, phones);
      boat.onEvents = () => phones.alarmsSaved?.([]);
    }, (error: Error) => say(`${name}: ${error.message}`));
    this.#opening.push(opening);
  }

  /** How messages about a boat stand, the newest first. */
  standing(boat: string): readonly DeliveryStanding[] {
    return this.#open.get(boat)?.standing() ?? [];
  }

  async stop(patience: AbortSignal): Promise<void> {
    await Promise.all(this.#opening);
    await Promise.all([...this.#open.values()].map((phones) => phones.stop(patience)));
  }
}
