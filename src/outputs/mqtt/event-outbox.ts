import type { Micros } from "../../ground/time.ts";
import type { AlarmEvent, Store } from "../../store/store.ts";

/** Events on their way at once: order is kept, and a slow link is not waited for one by one. */
const WINDOW = 16;

/**
 * Events on their way to one outlet, in order and at least once. An event counts as settled only
 * after the outlet has accepted it and all before it; a break sends the unsettled ones again, with
 * the same numbers.
 */
export class EventOutbox {
  private constructor(
    readonly store: Store,
    readonly outlet: string,
    /** Number of the last settled event. */
    public mark: number,
  ) {}

  static async open(store: Store, outlet: string): Promise<EventOutbox> {
    return new EventOutbox(store, outlet, await store.mark(outlet, "first"));
  }

  /**
   * Sends the next few events; false when none is owed.
   * @throws what `send` throws; then nothing of these few counts as settled
   */
  async sendSome(
    send: (event: AlarmEvent) => Promise<void>,
    wall: () => Micros,
  ): Promise<boolean> {
    if (this.mark >= this.store.lastNumber) return false;
    const events = await this.store.eventsAfter(this.mark, WINDOW);
    const last = events.at(-1);
    if (last === undefined) return false;
    await Promise.all(events.map(send));
    this.mark = last.number;
    const settlement = { outlet: this.outlet, number: last.number, outcome: "accepted" } as const;
    this.store.commit({ settled: [{ ...settlement, time: wall() }] });
    return true;
  }
}
