/**
 * Bytes of a stream by the piece, or a few at a time. A piece belongs to whoever made the stream and
 * is good only until the next one is asked for.
 */
export class ByteReader {
  readonly #pieces: AsyncIterator<Uint8Array>;
  /** Bytes that were looked at but not taken. */
  #ahead: Uint8Array = new Uint8Array(0);

  constructor(pieces: AsyncIterable<Uint8Array>) {
    this.#pieces = pieces[Symbol.asyncIterator]();
  }

  /** The next bytes, at least one; undefined at the end. */
  async piece(): Promise<Uint8Array | undefined> {
    const ahead = this.#ahead;
    if (ahead.length > 0) {
      this.#ahead = new Uint8Array(0);
      return ahead;
    }
    for (;;) {
      const next = await this.#pieces.next();
      if (next.done) return undefined;
      if (next.value.length > 0) return next.value;
    }
  }

  /** Puts back the rest of the piece that was given last. */
  unread(rest: Uint8Array): void {
    this.#ahead = rest;
  }

  /** The next `count` bytes without taking them; fewer at the end. */
  async peek(count: number): Promise<Uint8Array<ArrayBuffer>> {
    let held = await this.piece() ?? new Uint8Array(0);
    while (held.length < count) {
      const kept = new Uint8Array(held);
      const next = await this.piece();
      if (next === undefined) {
        held = kept;
        break;
      }
      held = new Uint8Array(kept.length + next.length);
      held.set(kept);
      held.set(next, kept.length);
    }
    this.#ahead = held;
    return new Uint8Array(held.subarray(0, count));
  }

  /** The next `count` bytes; fewer at the end. */
  async take(count: number): Promise<Uint8Array<ArrayBuffer>> {
    const taken = await this.peek(count);
    this.#ahead = this.#ahead.subarray(taken.length);
    return taken;
  }

  /** All that is left, by the piece. */
  async *rest(): AsyncGenerator<Uint8Array> {
    try {
      for (let piece = await this.piece(); piece !== undefined; piece = await this.piece()) {
        yield piece;
      }
    } finally {
      await this.close();
    }
  }

  /** Tells the stream that nobody reads on. */
  async close(): Promise<void> {
    await this.#pieces.return?.();
  }
}
