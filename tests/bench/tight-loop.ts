import type { FrameBatch } from "../../src/bus/frame-batch.ts";

/**
 * The bare loop again with nothing but typed arrays, as fast as it will go: how far the measure
 * itself can move. For orientation.
 */
export class TightLoop {
  messages = 0;
  /** A sum over the messages' bytes, so that nothing here can be left out. */
  sum = 0;

  readonly #isFast = new Uint8Array(1 << 18);
  readonly #keys = new Int32Array(PLACES).fill(-1);
  readonly #next = new Uint8Array(PLACES);
  readonly #length = new Uint8Array(PLACES);
  readonly #received = new Uint8Array(PLACES);
  readonly #buffer = new Uint8Array(PLACES * 256);

  constructor(fastPgns: Iterable<number>) {
    for (const pgn of fastPgns) this.#isFast[pgn] = 1;
  }

  feed(batch: FrameBatch): void {
    const { identifiers, buses, data, lengths } = batch;
    for (let i = 0; i < batch.count; i++) {
      const identifier = identifiers[i];
      const source = identifier & 0xff;
      let pgn = (identifier >>> 8) & 0x3ffff;
      if ((pgn & 0xff00) < 0xf000) pgn &= 0x3ff00;
      const place = this.#placeOf((buses[i] << 26) | (pgn << 8) | source);
      const at = i * 8;
      if (this.#isFast[pgn] === 0) {
        this.messages++;
        this.sum += data[at] + lengths[i];
      } else if (this.#append(place, data, at)) {
        this.messages++;
        this.sum += this.#buffer[place * 256] + this.#length[place];
      }
    }
  }

  #append(place: number, data: Uint8Array, at: number): boolean {
    const index = data[at] & 0x1f;
    const into = place * 256;
    if (index === 0) {
      this.#next[place] = (data[at] + 1) & 0xff;
      this.#length[place] = data[at + 1];
      this.#received[place] = 6;
      for (let k = 0; k < 6; k++) this.#buffer[into + k] = data[at + 2 + k];
    } else {
      if (data[at] !== this.#next[place]) return false;
      const received = this.#received[place];
      for (let k = 0; k < 7; k++) this.#buffer[into + received + k] = data[at + 1 + k];
      this.#next[place]++;
      this.#received[place] = received + 7;
    }
    return this.#received[place] >= this.#length[place];
  }

  #placeOf(key: number): number {
    let place = (Math.imul(key, 0x9e3779b1) >>> 16) & (PLACES - 1);
    while (this.#keys[place] !== key) {
      if (this.#keys[place] === -1) {
        this.#keys[place] = key;
        break;
      }
      place = (place + 1) & (PLACES - 1);
    }
    return place;
  }
}

const PLACES = 4096;
