import type { Message } from "../nmea2000/message.ts";
import type { RowKeys } from "./row-keys.ts";

/** A part of a key, side by side with the others of its row: see `KeyPart`. */
const enum Part {
  at = 0,
  shift = 1,
  mask = 2,
  width = 3,
  inGroup = 4,
  stride = 8,
}

/** What tells a message from others of its stream, packed into one number. */
export class MessageKeys {
  /** By row, and one more: where its parts begin in `#parts`. */
  readonly #first: Uint16Array;
  readonly #parts: Int32Array;

  /** @param rows by row; null: no field of the row makes a signal */
  constructor(rows: readonly (RowKeys | null)[]) {
    const parts = rows.flatMap((keys) => keys?.parts ?? []);
    this.#parts = new Int32Array(parts.length * Part.stride);
    for (const [i, { at, shift, mask, width, inGroup }] of parts.entries()) {
      this.#parts.set([at, shift, mask, width, inGroup ? 1 : 0], i * Part.stride);
    }
    this.#first = new Uint16Array(rows.length + 1);
    for (const [row, keys] of rows.entries()) {
      this.#first[row + 1] = this.#first[row] + (keys?.parts.length ?? 0) * Part.stride;
    }
  }

  /** The key of a message; -1 where it is cut off. */
  ofMessage({ bytes, row, start, length }: Message): number {
    const parts = this.#parts;
    const past = this.#first[row + 1];
    let key = 0;
    for (let part = this.#first[row]; part < past; part += Part.stride) {
      const at = parts[part + Part.at];
      if (at >= length) return -1;
      const said = (bytes[start + at] >> parts[part + Part.shift]) & parts[part + Part.mask];
      key = (key << parts[part + Part.width]) | said;
    }
    return key;
  }

  /** The same for one of its groups, some parts of which the whole message says. */
  ofGroup({ bytes, row, start, length }: Message, groupStart: number): number {
    const parts = this.#parts;
    const past = this.#first[row + 1];
    let key = 0;
    for (let part = this.#first[row]; part < past; part += Part.stride) {
      const from = parts[part + Part.inGroup] === 1 ? groupStart : start;
      const at = from + parts[part + Part.at];
      if (at >= start + length) return -1;
      const said = (bytes[at] >> parts[part + Part.shift]) & parts[part + Part.mask];
      key = (key << parts[part + Part.width]) | said;
    }
    return key;
  }
}
