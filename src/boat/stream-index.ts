/**
 * Finds what a message is about by two numbers, its stream (bus, PGN, source) and its instance key:
 * an open-addressed table of integers, since this is asked for every message. It holds a bounded
 * number of entries: a bus that makes up senders must not fill the memory.
 */
export class StreamIndex {
  readonly #mask: number;
  readonly #shift: number;
  readonly #most: number;
  /**
   * By place: stream, key, and value plus `BIAS`, so that 0 marks a free one. Side by side in one
   * array: looking into another array costs more than the search does.
   */
  readonly #places: Int32Array;
  #count = 0;

  /** @param bits the table has 2^bits places, half of which are used at most */
  constructor(bits = 13) {
    const places = 1 << bits;
    this.#mask = places - 1;
    this.#shift = 32 - bits;
    this.#most = places >> 1;
    this.#places = new Int32Array(places * STRIDE);
  }

  get full(): boolean {
    return this.#count >= this.#most;
  }

  /** The value that was put there, or `NOTHING`. */
  find(stream: number, key: number): number {
    const places = this.#places;
    let at = placeOf(stream, key) >>> this.#shift;
    for (;; at = (at + 1) & this.#mask) {
      const first = at * STRIDE;
      const value = places[first + VALUE];
      if (value === 0) return NOTHING;
      if (places[first] === stream && places[first + KEY] === key) return value - BIAS;
    }
  }

  /**
   * Puts a value (−1 or more) where there is none yet.
   * @throws {RangeError} when full
   */
  put(stream: number, key: number, value: number): void {
    if (this.full) throw new RangeError("the stream index is full");
    let at = placeOf(stream, key) >>> this.#shift;
    while (this.#places[at * STRIDE + VALUE] !== 0) at = (at + 1) & this.#mask;
    this.#places.set([stream, key, value + BIAS], at * STRIDE);
    this.#count++;
  }

  clear(): void {
    this.#places.fill(0);
    this.#count = 0;
  }
}

export const NOTHING = -2;

const BIAS = 2;
const KEY = 1;
const VALUE = 2;
/** A power of two, so that no place lies in two lines of the cache. */
const STRIDE = 4;

/** Bus 4 bits, PGN 18 bits, source 8 bits: 30 bits. */
export function streamOf(bus: number, pgn: number, source: number): number {
  return (bus << 26) | (pgn << 8) | source;
}

/** Multiplicative hashing (Knuth, The Art of Computer Programming 3, §6.4): the upper bits count. */
function placeOf(stream: number, key: number): number {
  return Math.imul(stream + Math.imul(key, 0x85ebca6b), 0x9e3779b1);
}
