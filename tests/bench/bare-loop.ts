import type { FrameBatch } from "../../src/bus/frame-batch.ts";

/**
 * What all other lines of the bench are compared with: a loop that only parses and reassembles, as
 * one writes it down first, with the language's own map and an object for each stream. It splits the
 * identifier, finds bus, PGN and source, and puts messages together. It checks no time, no
 * length and no sequence, and does nothing with the messages but count them.
 */
export class BareLoop {
  messages = 0;
  /** A sum over the messages, so that nothing here can be left out. */
  sum = 0;
  readonly #streams = new Map<number, Stream>();
  readonly #fastPgns: ReadonlySet<number>;

  constructor(fastPgns: Iterable<number>) {
    this.#fastPgns = new Set(fastPgns);
  }

  feed(batch: FrameBatch): void {
    for (let i = 0; i < batch.count; i++) {
      const identifier = batch.identifiers[i];
      const source = identifier & 0xff;
      let pgn = (identifier >>> 8) & 0x3ffff;
      if ((pgn & 0xff00) < 0xf000) pgn &= 0x3ff00;
      const stream = this.#streamOf((batch.buses[i] << 26) | (pgn << 8) | source, pgn);
      const at = i * 8;
      if (!stream.fast) {
        stream.bytes.set(batch.data.subarray(at, at + batch.lengths[i]));
        stream.length = batch.lengths[i];
      } else if (!append(stream, batch.data, at)) {
        continue;
      }
      this.messages++;
      this.sum += stream.bytes[0] + stream.length;
    }
  }

  #streamOf(key: number, pgn: number): Stream {
    let stream = this.#streams.get(key);
    if (stream === undefined) {
      const bytes = new Uint8Array(256);
      stream = { fast: this.#fastPgns.has(pgn), bytes, length: 0, received: 0, next: 0 };
      this.#streams.set(key, stream);
    }
    return stream;
  }
}

interface Stream {
  readonly fast: boolean;
  readonly bytes: Uint8Array;
  length: number;
  received: number;
  next: number;
}

/** True when the message is complete. */
function append(stream: Stream, data: Uint8Array, at: number): boolean {
  if ((data[at] & 0x1f) === 0) {
    stream.length = data[at + 1];
    stream.bytes.set(data.subarray(at + 2, at + 8));
    stream.received = 6;
  } else {
    if (data[at] !== stream.next) return false;
    stream.bytes.set(data.subarray(at + 1, at + 8), stream.received);
    stream.received += 7;
  }
  stream.next = data[at] + 1;
  return stream.received >= stream.length;
}
