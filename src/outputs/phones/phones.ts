/**
 * Everybody who is told on a phone.
 *
 *     saved events ─▶ telling/ ─▶ words/ ─▶ delivery/ ─▶ ways/
 *                  who and when   what      until it is accepted
 *
 * Order of calls: `open`, then `wake` whenever an event was saved, `stop` at the end. What a person
 * is owed is in the store before it is sent, together with how far the events have been read; that
 * it was told, only after it was accepted.
 */
import type { Clock } from "../../ground/clock.ts";
import { type Micros, MINUTE, SECOND } from "../../ground/time.ts";
import type { AlarmEvent, Document, Store } from "../../store/store.ts";
import { backOff } from "../../ground/back-off.ts";
import { Outbox } from "./delivery/outbox.ts";
import type { DeliveryStanding } from "./delivery/told-record.ts";
import { messageOf, type MessageParts, textNow } from "./notice-message.ts";
import type { Moment, Notice } from "./telling/notice.ts";
import type { Person } from "./telling/person.ts";
import { Telling, type TellingSetup } from "./telling/telling.ts";
import { readTelling, tellingDocument } from "./telling/telling-memory.ts";
import type { PhoneMessage, Way } from "./way.ts";

/** Somebody who is told, and how. */
export interface ReachedPerson extends Person {
  /** In the order in which they are tried. */
  readonly ways: readonly Way[];
}

export interface PhonesParts extends Omit<MessageParts, "epoch"> {
  readonly people: readonly ReachedPerson[];
  readonly isGone?: TellingSetup["isGone"];
  readonly store: Store;
  readonly clock: Clock;
  /** From 0 to 1, for the jitter between tries. */
  readonly random: () => number;
  /** Resolves after a length of time, or at once when `cut`. */
  readonly wait: (length: Micros, cut: AbortSignal) => Promise<void>;
  /** Told of every change of a delivery. */
  readonly onStep: (standing: DeliveryStanding) => void;
  /** A fault of the program itself: other messages go on. */
  readonly onFault: (error: Error) => void;
}

const OUTLET = "phones";
/** Events read from the store at once. */
const PART = 64;
/** A disk that is so slow holds up nobody's phone. */
const DISK_PATIENCE: Micros = 2 * SECOND;

/** A computer that starts anew again and again must still come to ask the next person. */
const KEPT_EVERY: Micros = MINUTE;

export class Phones {
  readonly #stopping = new AbortController();
  readonly #outbox: Outbox;
  readonly #telling: Telling;
  readonly #messages: MessageParts;
  #timer = new AbortController();
  /** Steady time at which it was last kept how long somebody's answer is still waited for. */
  #kept: Micros = 0;
  #awake = false;
  #running: Promise<void> | undefined;

  private constructor(
    readonly parts: PhonesParts,
    telling: Telling,
    /** Number of the last event that was looked at. */
    public mark: number,
  ) {
    const { store, clock, random, wait, onStep, onFault } = parts;
    this.#telling = telling;
    this.#messages = { ...parts, epoch: store.epoch };
    this.#outbox = new Outbox({
      ways: new Map(parts.people.map(({ name, ways }) => [name, ways])),
      clock,
      random,
      wait,
      onStep,
      onFault,
      textNow: ({ message, raisings }, age) => {
        const meanwhile = telling.meanwhile(message.about === "raised" ? raisings : []);
        return textNow(message, meanwhile, age, this.#messages, clock.wall());
      },
      onSettled: ({ message: { person }, raisings }, outcome) => {
        telling.settle(person, raisings, outcome, this.#moment());
        this.wake();
        return [this.#memory()];
      },
      keep: (documents) => store.commit({ documents }).saved,
    });
  }

  /** Somebody who is new is told of what happens from now on, not of what was. */
  static async open(parts: PhonesParts): Promise<Phones> {
    const { people, timeZone, isGone, store, clock } = parts;
    const telling = new Telling({ people, timeZone, isGone });
    readTelling(telling, await store.documents("fact"), clock.steady());
    const phones = new Phones(parts, telling, await store.mark(OUTLET, "last"));
    phones.#outbox.resume(await store.documents("told"));
    phones.wake();
    return phones;
  }

  /** How messages stand, the newest first. */
  standing(): readonly DeliveryStanding[] {
    return this.#outbox.standing();
  }

  wake(): void {
    if (this.#stopping.signal.aborted) return;
    this.#awake = true;
    this.#running ??= this.#run().catch(this.parts.onFault).finally(() => {
      this.#running = undefined;
      if (this.#awake) this.wake();
      else this.#setTimer();
    });
  }

  /**
   * What the disk has not taken in time is told all the same, and says so.
   * Its key is its own: if the program dies before the disk takes it, its number goes to another.
   */
  tellUnsaved(events: readonly AlarmEvent[]): void {
    if (this.#stopping.signal.aborted) return;
    const now = this.#moment();
    for (const { number, change } of events) this.#telling.take(number, change, now, false);
    this.#send(this.#telling.notices(now), []);
  }

  /**
   * One message to one person that is not about an alarm.
   * @param documents kept together with it, so that both are remembered or neither
   */
  say(message: PhoneMessage, documents: readonly Document[]): void {
    const record = this.#outbox.record(message, [], false);
    const { saved } = this.parts.store.commit({
      documents: [this.#outbox.document(record), ...documents],
    });
    this.#outbox.send([record], this.#onDisk(saved));
  }

  /** Resolves when nothing is left to tell for now. */
  async idle(): Promise<void> {
    this.#telling.hurry(this.parts.clock.steady());
    this.wake();
    while (this.#running !== undefined || this.#outbox.isBusy) {
      await this.#running;
      await this.#outbox.idle();
    }
  }

  /** Ends waiting and sending; what was not accepted is told after the next start. */
  async stop(): Promise<void> {
    this.#stopping.abort();
    this.#timer.abort();
    await this.#running;
    await this.#outbox.stop();
    this.parts.store.commit({ documents: [this.#memory()] }).saved.catch(() => {});
  }

  async #run(): Promise<void> {
    while (this.#awake && !this.#stopping.signal.aborted) {
      this.#awake = false;
      const events = await this.#nextEvents();
      const now = this.#moment();
      for (const { number, change } of events) this.#telling.take(number, change, now);
      this.mark = events.at(-1)?.number ?? this.mark;
      this.#send(this.#telling.notices(now), events);
      this.#awake ||= events.length > 0;
    }
  }

  async #nextEvents(): Promise<readonly AlarmEvent[]> {
    for (let attempt = 1; !this.#stopping.signal.aborted; attempt++) {
      try {
        return await this.parts.store.eventsAfter(this.mark, PART);
      } catch {
        // The store tells of its own trouble; here it is enough to ask again.
        await this.parts.wait(backOff(attempt, this.parts.random()), this.#stopping.signal);
      }
    }
    return [];
  }

  /** Keeps what is owed and how far the events were read, as one; then sends. */
  #send(notices: readonly Notice[], events: readonly AlarmEvent[]): void {
    const { store, clock } = this.parts;
    const isNothingNew = notices.length === 0 && events.length === 0;
    if (isNothingNew && !this.#isKeepingDue()) return;
    this.#kept = clock.steady();
    const records = notices.map((notice) => {
      const raisings = notice.items.map(({ raising }) => raising);
      return this.#outbox.record(
        messageOf(notice, this.#messages, clock.wall()),
        raisings,
        notice.isAgain,
      );
    });
    const time = clock.wall();
    const { saved } = store.commit({
      documents: [...records.map((record) => this.#outbox.document(record)), this.#memory()],
      settled: events.length === 0
        ? []
        : [{ outlet: OUTLET, number: this.mark, outcome: "accepted", time }],
    });
    const isUnsaved = notices.some(({ items }) => items.some((item) => item.isUnsaved));
    this.#outbox.send(records, isUnsaved ? Promise.resolve() : this.#onDisk(saved));
  }

  async #onDisk(saved: Promise<void>): Promise<void> {
    const { wait } = this.parts;
    await Promise.race([saved.catch(() => {}), wait(DISK_PATIENCE, this.#stopping.signal)]);
  }

  /** While somebody's answer is waited for. */
  #isKeepingDue(): boolean {
    return this.#telling.nextDue < Infinity &&
      this.parts.clock.steady() - this.#kept >= KEPT_EVERY;
  }

  /** Looks again when something is due. */
  #setTimer(): void {
    this.#timer.abort();
    if (this.#telling.nextDue === Infinity || this.#stopping.signal.aborted) return;
    const due = Math.min(this.#telling.nextDue, this.#kept + KEPT_EVERY);
    const timer = this.#timer = new AbortController();
    void this.parts.wait(Math.max(0, due - this.parts.clock.steady()), timer.signal)
      .then(() => timer.signal.aborted || this.wake());
  }

  #memory(): Document {
    return tellingDocument(this.#telling, this.parts.clock.steady());
  }

  #moment(): Moment {
    const { clock } = this.parts;
    return { steady: clock.steady(), wall: clock.wall() };
  }
}
