import type { AlarmChange } from "../../alarms/change.ts";
import type { Priority } from "../../alarms/words.ts";
import { backOff } from "../../ground/back-off.ts";
import type { Micros } from "../../ground/time.ts";
import type { AlarmEvent, Store } from "../../store/store.ts";
import { messageKey } from "./message-key.ts";
import { toldAs } from "./told-change.ts";
import type { PhoneMessage, SendOutcome, Way } from "./way.ts";

/** How one message to one person stands. */
export interface DeliveryProgress {
  readonly person: string;
  readonly way: string;
  /** Number of the event. */
  readonly number: number;
  readonly state: "sending" | "waiting" | "accepted" | "refused";
  /** From 1. */
  readonly attempt: number;
  /** A clause; empty while all is well. */
  readonly why: string;
}

export interface DeliveryParts {
  readonly store: Store;
  readonly person: string;
  /** Priorities of which this person is told. */
  readonly wants: readonly Priority[];
  /** `Hazel Comfort` */
  readonly boat: string;
  readonly way: Way;
  readonly words: (change: AlarmChange, about: "raised" | "returned") => string;
  readonly wall: () => Micros;
  /** From 0 to 1, for the jitter between tries. */
  readonly random: () => number;
  /** Resolves after a length of time, or at once when `cut`. */
  readonly wait: (length: Micros, cut: AbortSignal) => Promise<void>;
  readonly onProgress: (progress: DeliveryProgress) => void;
}

type Delivered = "accepted" | "refused" | "stopped";

/** Events read from the store at once. */
const PART = 32;

/**
 * Tells one person in one way, each on its own: a phone that cannot be reached holds up no other.
 * Messages go in order; one is settled in the store only after it was accepted, or refused for good,
 * so that a kill in between repeats it with the same key.
 *
 * Order of calls: `open`, then `wake` whenever an event was saved, `stop` at the end.
 */
export class Delivery {
  readonly #stopping = new AbortController();
  /** By event number: what was told before it was saved, to be settled when it is. */
  readonly #unsaved = new Map<number, Promise<Delivered>>();
  #awake = false;
  #running: Promise<void> | undefined;

  private constructor(
    readonly parts: DeliveryParts,
    readonly outlet: string,
    /** Number of the last event that this person needs no more word of. */
    public mark: number,
  ) {}

  /** A person who is new is told what happens from now on, not what was. */
  static async open(parts: DeliveryParts): Promise<Delivery> {
    const outlet = `phone ${parts.way.name} ${parts.person}`;
    const delivery = new Delivery(parts, outlet, await parts.store.mark(outlet, "last"));
    delivery.wake();
    return delivery;
  }

  wake(): void {
    if (this.#stopping.signal.aborted) return;
    this.#awake = true;
    this.#running ??= this.#run();
  }

  /**
   * An emergency that the disk has not taken within two seconds is told all the same, and says so.
   * Its key is its own: if the program dies before the disk takes it, its number goes to another.
   */
  tellUnsaved({ number, change }: AlarmEvent): void {
    const { store, person } = this.parts;
    if (this.#stopping.signal.aborted || this.#unsaved.has(number)) return;
    const key = messageKey(`${store.epoch} unsaved ${change.time}`, number, person);
    const message = this.#messageOf(change, key);
    if (message === null) return;
    const text = `${message.text} The boat's memory could not be written.`;
    this.#unsaved.set(number, this.#deliver({ ...message, text }, number));
  }

  /** Resolves when nothing is left to tell for now. */
  async idle(): Promise<void> {
    while (this.#running !== undefined) await this.#running;
    await Promise.all(this.#unsaved.values());
  }

  /** Ends waiting and sending; what was not accepted is told after the next start. */
  async stop(): Promise<void> {
    this.#stopping.abort();
    await this.#running;
    await Promise.all(this.#unsaved.values());
  }

  async #run(): Promise<void> {
    while (this.#awake && !this.#stopping.signal.aborted) {
      this.#awake = false;
      const events = await this.#nextEvents();
      for (const event of events) {
        if (!await this.#tell(event)) break;
        this.mark = event.number;
      }
      this.#awake ||= events.length > 0;
    }
    this.#running = undefined;
  }

  async #nextEvents(): Promise<readonly AlarmEvent[]> {
    for (let attempt = 1; !this.#stopping.signal.aborted; attempt++) {
      try {
        return await this.parts.store.eventsAfter(this.mark, PART);
      } catch {
        // The store tells of its own trouble; here it is enough to ask again.
        await this.#pause(attempt, undefined);
      }
    }
    return [];
  }

  /** False when stopped before the message was settled. */
  async #tell({ number, change }: AlarmEvent): Promise<boolean> {
    const { store, person, wall } = this.parts;
    const message = this.#messageOf(change, messageKey(store.epoch, number, person));
    if (message === null) return true;
    const outcome = await (this.#unsaved.get(number) ?? this.#deliver(message, number));
    if (outcome === "stopped") return false;
    this.#unsaved.delete(number);
    store.commit({ settled: [{ outlet: this.outlet, number, outcome, time: wall() }] });
    return true;
  }

  /** Tries until the message is accepted, refused for good, or the program stops. */
  async #deliver(message: PhoneMessage, number: number): Promise<Delivered> {
    for (let attempt = 1; !this.#stopping.signal.aborted; attempt++) {
      this.#report(number, attempt, "sending", "");
      const outcome = await this.#send(message);
      if (outcome.kind !== "try-again") {
        this.#report(number, attempt, outcome.kind, outcome.kind === "refused" ? outcome.why : "");
        return outcome.kind;
      }
      this.#report(number, attempt, "waiting", outcome.why);
      await this.#pause(attempt, outcome.after);
    }
    return "stopped";
  }

  #messageOf(change: AlarmChange, key: string): PhoneMessage | null {
    const { person, wants, boat, words } = this.parts;
    const about = toldAs(change);
    if (about === null || !wants.includes(change.priority)) return null;
    const { priority, time, signal } = change;
    const text = words(change, about);
    return { key, person, boat, priority, about, text, signal, answers: [], time };
  }

  async #send(message: PhoneMessage): Promise<SendOutcome> {
    try {
      return await this.parts.way.send(message, this.#stopping.signal);
    } catch (error) {
      return { kind: "try-again", why: error instanceof Error ? error.name : "an error" };
    }
  }

  async #pause(attempt: number, atLeast: Micros = 0): Promise<void> {
    const length = Math.max(atLeast, backOff(attempt, this.parts.random()));
    await this.parts.wait(length, this.#stopping.signal);
  }

  #report(number: number, attempt: number, state: DeliveryProgress["state"], why: string): void {
    const { person, way, onProgress } = this.parts;
    onProgress({ person, way: way.name, number, state, attempt, why });
  }
}
