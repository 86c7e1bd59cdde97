/**
 * The record that a binary reader is in the middle of: its first bytes, as many as the reader wants
 * to see, while the rest of a long record is only counted off. Bounded by `most`, however the bytes
 * come and whatever they say of themselves.
 */
export class RecordBuffer {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly view: DataView<ArrayBuffer>;
  /** Bytes of the record that are here. */
  kept = 0;
  #wanted = 0;
  #passed = 0;

  constructor(readonly most: number) {
    this.bytes = new Uint8Array(most);
    this.view = new DataView(this.bytes.buffer);
  }

  /** Begins a record whose first `wanted` bytes are to be kept. */
  begin(wanted: number): void {
    this.kept = 0;
    this.#wanted = wanted;
    this.#passed = 0;
  }

  /** The record goes on: `wanted` of its bytes are to be kept in all, and then `passed` passed over. */
  extend(wanted: number, passed: number): void {
    this.#wanted = wanted;
    this.#passed = passed;
  }

  /** Takes what is wanted from `from` on; returns the place of the first byte not taken. */
  take(bytes: Uint8Array, from: number): number {
    let at = from;
    const end = Math.min(bytes.length, at + this.#wanted - this.kept);
    while (at < end) this.bytes[this.kept++] = bytes[at++];
    if (this.kept < this.#wanted) return at;
    const over = Math.min(bytes.length - at, this.#passed);
    this.#passed -= over;
    return at + over;
  }

  get complete(): boolean {
    return this.kept === this.#wanted && this.#passed === 0;
  }
}
