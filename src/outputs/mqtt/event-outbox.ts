import type { Micros } from "../../ground/time.ts";
import type { AlarmEvent, Store } from "../../store/store.ts";

/** Events on their way at once: order is kept, and a slow link is not waited for one by one. */
const WINDOW = 16;

/** Marks in the store: accepted by the broker, and known to be safe ashore. */
const SENT = "mqtt";
export const ASHORE = "ashore";

export interface OutboxOptions {
  /** The broker is ashore: what it accepts is safe there. Else `received` says what is. */
  readonly ashore: boolean;
}

/**
 * Events on their way to the broker, in order and at least once. An event counts as sent only after
 * the broker has accepted it and all before it; a break sends the others again, with the same
 * numbers. It leaves the outbox when it is safe ashore; until then it can be asked for again.
 */
export class EventOutbox {
  /** Ranges of numbers that somebody ashore misses, in the order in which they asked. */
  readonly #again: { from: number; readonly to: number }[] = [];

  private constructor(
    readonly store: Store,
    readonly options: OutboxOptions,
    /** Number of the last event that the broker has accepted. */
    public mark: number,
    /** Number of the last event that is safe ashore. */
    public ashore: number,
  ) {}

  static async open(store: Store, options: OutboxOptions): Promise<EventOutbox> {
    const ashore = await store.mark(ASHORE, "first");
    return new EventOutbox(store, options, await store.mark(SENT, "first"), ashore);
  }

  /**
   * Sends the next few events, new ones before those that were asked for again; false when none is
   * owed.
   * @throws what `send` throws; then nothing of these few counts as sent
   */
  async sendSome(
    send: (event: AlarmEvent) => Promise<void>,
    wall: () => Micros,
  ): Promise<boolean> {
    if (this.mark >= this.store.lastNumber) return await this.#sendAgain(send);
    const events = await this.store.eventsAfter(this.mark, WINDOW);
    const last = events.at(-1);
    if (last === undefined) return await this.#sendAgain(send);
    await Promise.all(events.map(send));
    this.mark = last.number;
    this.#settle(SENT, last.number, wall());
    if (this.options.ashore) this.received(last.number, wall());
    return true;
  }

  /**
   * Owes these events again.
   * @returns the range that really follows; null where there is none of it
   */
  async resend(from: number, to: number): Promise<{ from: number; to: number } | null> {
    const [first] = await this.store.eventsAfter(from - 1, 1);
    const range = { from: first?.number ?? Infinity, to: Math.min(to, this.store.lastNumber) };
    if (range.from > range.to) return null;
    const known = this.#again.some((one) => one.from <= range.from && one.to >= range.to);
    if (!known) this.#again.push({ ...range });
    return range;
  }

  /** Everything up to this number is safe ashore. False for a number that was never given. */
  received(number: number, wall: Micros): boolean {
    if (number > this.store.lastNumber) return false;
    if (number <= this.ashore) return true;
    this.ashore = number;
    this.#settle(ASHORE, number, wall);
    return true;
  }

  async #sendAgain(send: (event: AlarmEvent) => Promise<void>): Promise<boolean> {
    const range = this.#again[0];
    if (range === undefined) return false;
    const found = await this.store.eventsAfter(range.from - 1, WINDOW);
    const events = found.filter(({ number }) => number <= range.to);
    await Promise.all(events.map(send));
    range.from = (events.at(-1)?.number ?? range.to) + 1;
    if (range.from > range.to) this.#again.shift();
    return true;
  }

  #settle(outlet: string, number: number, time: Micros): void {
    this.store.commit({ settled: [{ outlet, number, outcome: "accepted", time }] });
  }
}
