import { type Micros, SECOND } from "../ground/time.ts";
import { senderOf, SENDERS } from "./message-counts.ts";

/** What a sender says of one row. */
export interface MessageRate {
  readonly row: number;
  /** Since the beginning. */
  readonly count: number;
  /** In hertz, over the last whole window, or since the beginning where there was none yet. */
  readonly rate: number;
}

/**
 * How often each sender says each message: one count a message, in one flat array. Windows are
 * closed by the caller, so that a rate is of now and not of all the time that has passed.
 */
export class MessageRates {
  /** By sender × rows + row. */
  readonly #counts: Uint32Array;
  /** `#counts` as the last window began, and as it ended. */
  readonly #before: Uint32Array;
  readonly #after: Uint32Array;
  #beganAt: Micros | null = null;
  #window: readonly [began: Micros, ended: Micros] | null = null;

  constructor(readonly rows: number) {
    this.#counts = new Uint32Array(SENDERS * rows);
    this.#before = new Uint32Array(SENDERS * rows);
    this.#after = new Uint32Array(SENDERS * rows);
  }

  take(sender: number, row: number): void {
    this.#counts[sender * this.rows + row]++;
  }

  /** Ends a window and begins the next: the first call begins the first. */
  turn(now: Micros): void {
    if (this.#beganAt !== null && now > this.#beganAt) {
      this.#window = [this.#beganAt, now];
      this.#before.set(this.#after);
    }
    this.#after.set(this.#counts);
    this.#beganAt = now;
  }

  /** What a sender says, by row; empty for one that was never heard. */
  of(bus: number, source: number, now: Micros): MessageRate[] {
    const first = senderOf(bus, source) * this.rows;
    const heard: MessageRate[] = [];
    for (let row = 0; row < this.rows; row++) {
      const count = this.#counts[first + row];
      if (count > 0) heard.push({ row, count, rate: this.#rateOf(first + row, now) });
    }
    return heard;
  }

  #rateOf(place: number, now: Micros): number {
    if (this.#window !== null) {
      const [began, ended] = this.#window;
      return ((this.#after[place] - this.#before[place]) * SECOND) / (ended - began);
    }
    const since = this.#beganAt ?? now;
    const count = this.#counts[place] - this.#after[place];
    return now > since ? (count * SECOND) / (now - since) : 0;
  }
}
