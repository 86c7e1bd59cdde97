import type { AlarmStatus } from "../../alarms/change.ts";
import type { Boat } from "../../boat/boat.ts";
import type { Clock } from "../../ground/clock.ts";
import type { TestAnswer, WhoWasTold } from "../../outputs/page/phones/who-was-told.ts";
import type { AnswerAddress } from "../../outputs/phones/answer-link.ts";
import { boatWords } from "../../outputs/phones/words/boat-words.ts";
import type { Store } from "../../store/store.ts";
import type { Settings } from "../settings/settings.ts";
import { hailOnPage, whoWasTold } from "../watching/phones-on-page.ts";
import { openPhones, type PhonesOutlet } from "../watching/phones-opening.ts";
import type { PushDevices } from "../watching/push-devices.ts";
import type { AshoreBoat } from "./ashore-boat.ts";
import { ShorePush } from "./shore-push.ts";

export interface ShorePhonesParts {
  readonly settings: Settings;
  /** How the owner reads, and in which time zone. */
  readonly owner: Boat;
  /** Devices that asked on the shore's page; left out where nobody is told by push messages. */
  readonly push?: PushDevices;
  /** Where a phone can answer that a boat is not heard; left out where no phone can. */
  readonly answerAddress?: AnswerAddress;
  /** The shore's own. */
  readonly store: Store;
  readonly clock: Clock;
  readonly say: (sentence: string) => void;
}

/** Who speaks where it is about no boat: `Ashore: a test, sent at 10:00.` */
const SHORE = "ashore";

/**
 * The shore's own people: told by every way that a boat is not heard, and on the devices that asked
 * ashore of every boat's alarms.
 *
 * Order of calls: `follow` whenever a boat is opened, `begin` once those are that were named, `stop`
 * at the end.
 */
export class ShorePhones {
  readonly #push: ShorePush | undefined;
  #own: PhonesOutlet | undefined;

  constructor(readonly parts: ShorePhonesParts) {
    const { push, settings: { people } } = parts;
    this.#push = push && new ShorePush({ ...parts, people, push });
  }

  /**
   * @param statuses *boat not heard* of every boat
   * @throws {CommandFailure} where a secret cannot be read
   */
  async begin(statuses: () => readonly AlarmStatus[]): Promise<void> {
    const { settings: { people, hail, mail }, owner, ...parts } = this.parts;
    this.#own = await openPhones({
      ...parts,
      people,
      mail,
      hailAt: hail,
      boat: { ...owner, name: SHORE },
      // The shore's own alarms have the boat as their subject.
      boatOf: ({ subject }) => subject,
      isNeverShelved: true,
      statuses,
    });
  }

  follow(boat: AshoreBoat): void {
    this.#push?.follow(boat);
  }

  /** A change of *boat not heard* was kept. */
  wake(): void {
    this.#own?.alarmsSaved?.([]);
  }

  turn(): void {
    this.#own?.turn();
  }

  /** Who was told of one boat, and of the shore itself. */
  told(boat: string): WhoWasTold {
    const names = [boatWords(boat), boatWords(SHORE)];
    const own = (this.#own?.standing() ?? []).filter(({ boat }) => names.includes(boat));
    const all = [...own, ...this.#push?.standing(boat) ?? []]
      .toSorted((one, other) => other.due - one.due);
    return whoWasTold(all, this.parts.settings.people, true);
  }

  /** Sends a test every way to everybody. */
  async hail(): Promise<readonly TestAnswer[]> {
    return this.#own === undefined ? [] : await hailOnPage(this.#own);
  }

  async stop(patience: AbortSignal): Promise<void> {
    await Promise.all([this.#own?.stop(patience), this.#push?.stop(patience)]);
  }
}
