/**
 * Finds what a message is about by two numbers, its stream (bus, PGN, source) and its instance key:
 * an open-addressed table of integers, since this is asked for every message. It holds a bounded
 * number of entries: a bus that makes up senders must not fill the memory.
 */
export class StreamIndex {
  readonly #mask: number;
  readonly #shift: number;
  readonly #most: number;
  readonly #streams: Int32Array;
  readonly #keys: Int32Array;
  /** 0 marks a free place, so values are kept plus `BIAS`. */
  readonly #values: Int32Array;
  #count = 0;

  /** @param bits the table has 2^bits places, half of which are used at most */
  constructor(bits = 13) {
    const places = 1 << bits;
    this.#mask = places - 1;
    this.#shift = 32 - bits;
    this.#most = places >> 1;
    this.#streams = new Int32Array(places);
    this.#keys = new Int32Array(places);
    this.#values = new Int32Array(places);
  }

  get full(): boolean {
    return this.#count >= this.#most;
  }

  /** The value that was put there, or `NOTHING`. */
  find(stream: number, key: number): number {
    let at = placeOf(stream, key) >>> this.#shift;
    while (this.#values[at] !== 0) {
      if (this.#streams[at] === stream && this.#keys[at] === key) return this.#values[at] - BIAS;
      at = (at + 1) & this.#mask;
    }
    return NOTHING;
  }

  /**
   * Puts a value (−1 or more) where there is none yet.
   * @throws {RangeError} when full
   */
  put(stream: number, key: number, value: number): void {
    if (this.full) throw new RangeError("the stream index is full");
    let at = placeOf(stream, key) >>> this.#shift;
    while (this.#values[at] !== 0) at = (at + 1) & this.#mask;
    this.#streams[at] = stream;
    this.#keys[at] = key;
    this.#values[at] = value + BIAS;
    this.#count++;
  }

  clear(): void {
    this.#values.fill(0);
    this.#count = 0;
  }
}

export const NOTHING = -2;

const BIAS = 2;

/** Bus 4 bits, PGN 18 bits, source 8 bits: 30 bits. */
export function streamOf(bus: number, pgn: number, source: number): number {
  return (bus << 26) | (pgn << 8) | source;
}

/** Multiplicative hashing (Knuth, The Art of Computer Programming 3, §6.4): the upper bits count. */
function placeOf(stream: number, key: number): number {
  return Math.imul(stream + Math.imul(key, 0x85ebca6b), 0x9e3779b1);
}
