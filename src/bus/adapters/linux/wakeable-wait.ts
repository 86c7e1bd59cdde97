import type { Libc } from "./libc.ts";

/** POLLIN of Linux's `poll.h`; errors and hang-ups wake a poll unasked. */
const READABLE = 0x0001;
/** EFD_NONBLOCK and EFD_CLOEXEC of Linux's `sys/eventfd.h`. */
const EVENT_FLAGS = 0x800 | 0x80000;
/** `struct pollfd`: descriptor i32 at 0, wanted i16 at 4, found i16 at 6. */
const ENTRY = 8;

/**
 * Waits until there is something to read from a descriptor, or somebody wakes it. Closing a
 * descriptor does not end a poll that is under way, so a second one of our own stands beside it.
 */
export class WakeableWait {
  readonly #libc: Libc;
  readonly #event: number;
  readonly #entries: Uint8Array<ArrayBuffer>;
  #under: Promise<unknown> = Promise.resolve();

  constructor(libc: Libc, descriptor: number) {
    this.#libc = libc;
    this.#event = libc.call.eventfd(0, EVENT_FLAGS);
    this.#entries = new Uint8Array(2 * ENTRY);
    const view = new DataView(this.#entries.buffer);
    for (const [index, one] of [descriptor, this.#event].entries()) {
      view.setInt32(index * ENTRY, one, true);
      view.setInt16(index * ENTRY + 4, READABLE, true);
    }
  }

  /** Resolves when there may be something to read, after `milliseconds`, or once woken. */
  async wait(milliseconds: number): Promise<void> {
    this.#under = this.#libc.call.poll(this.#entries, 2n, milliseconds);
    await this.#under;
  }

  /** Ends the wait under way and every later one. */
  wake(): void {
    this.#libc.call.eventfd_write(this.#event, 1n);
  }

  /** Lets go of what it waits with, once no poll uses it any more. */
  async close(): Promise<void> {
    this.wake();
    await this.#under;
    this.#libc.call.close(this.#event);
  }
}
