import { senderOf, SENDERS } from "./message-counts.ts";

/** What a sender says of one row. */
export interface MessageTally {
  readonly row: number;
  /** Since the beginning. */
  readonly count: number;
}

/** How often each sender says each message: one count a message, in one flat array. */
export class MessageTallies {
  /** By sender × rows + row. */
  readonly #counts: Uint32Array;

  constructor(readonly rows: number) {
    this.#counts = new Uint32Array(SENDERS * rows);
  }

  take(sender: number, row: number): void {
    this.#counts[sender * this.rows + row]++;
  }

  /** What a sender says, by row; empty for one that was never heard. */
  of(bus: number, source: number): MessageTally[] {
    const first = senderOf(bus, source) * this.rows;
    return [...this.#counts.subarray(first, first + this.rows).entries()]
      .filter(([, count]) => count > 0)
      .map(([row, count]) => ({ row, count }));
  }
}
