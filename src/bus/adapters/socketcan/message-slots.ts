import { CONTROL_ROOM } from "./control-messages.ts";

// Layouts of 64-bit little-endian Linux (x86-64 and arm64), `socket.h` and `can.h`.

/**
 * `struct mmsghdr`: address of the name at 0 and its length u32 at 8, of the pieces at 16 and their
 * count at 24, of the control buffer at 32 and its length at 40, flags at 48; length received u32 at
 * 56.
 */
const HEADER = 64;
const PIECES = 16;
const PIECE_COUNT = 24;
const CONTROL = 32;
const CONTROL_LENGTH = 40;
const FLAGS = 48;
const RECEIVED = 56;
/** `struct iovec`: address at 0, length at 8. */
const PIECE = 16;
/** `struct can_frame`: identifier word u32 at 0, length u8 at 4, data at 8. */
const FRAME = 16;

const FRAME_DATA = 8;

/**
 * Room for a number of frames, laid out as `recvmmsg` fills it: the headers, then the pieces that
 * they point to, the frames, and the control buffers. All of it is one buffer, since memory that is
 * known to C by its address only would be collected.
 */
export class MessageSlots {
  /** To be given to `recvmmsg`, which finds the headers at its beginning. */
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly view: DataView<ArrayBuffer>;
  readonly #frames: number;
  readonly #controls: number;

  /** @param addressOf where in memory a buffer begins */
  constructor(readonly capacity: number, addressOf: (buffer: Uint8Array<ArrayBuffer>) => bigint) {
    const pieces = capacity * HEADER;
    this.#frames = pieces + capacity * PIECE;
    this.#controls = this.#frames + capacity * FRAME;
    this.bytes = new Uint8Array(this.#controls + capacity * CONTROL_ROOM);
    this.view = new DataView(this.bytes.buffer);
    const base = addressOf(this.bytes);
    for (let slot = 0; slot < capacity; slot++) {
      const header = slot * HEADER;
      const piece = pieces + slot * PIECE;
      this.view.setBigUint64(header + PIECES, base + BigInt(piece), true);
      this.view.setBigUint64(header + PIECE_COUNT, 1n, true);
      this.view.setBigUint64(header + CONTROL, base + BigInt(this.controlAt(slot)), true);
      this.view.setBigUint64(piece, base + BigInt(this.#frameAt(slot)), true);
      this.view.setBigUint64(piece + 8, BigInt(FRAME), true);
    }
    this.reset(capacity);
  }

  /** Makes the first `count` slots ready again: a call shortens what it has used. */
  reset(count: number): void {
    for (let slot = 0; slot < count; slot++) {
      const header = slot * HEADER;
      this.view.setUint32(header + CONTROL_LENGTH, CONTROL_ROOM, true);
      this.view.setUint32(header + FLAGS, 0, true);
    }
  }

  /** True if what was received is a classic frame: an FD frame is longer, anything else shorter. */
  isFrame(slot: number): boolean {
    return this.view.getUint32(slot * HEADER + RECEIVED, true) === FRAME && this.length(slot) <= 8;
  }

  /** The identifier with the bits beside it. */
  word(slot: number): number {
    return this.view.getUint32(this.#frameAt(slot), true);
  }

  /** Data bytes. */
  length(slot: number): number {
    return this.view.getUint8(this.#frameAt(slot) + 4);
  }

  dataAt(slot: number): number {
    return this.#frameAt(slot) + FRAME_DATA;
  }

  controlAt(slot: number): number {
    return this.#controls + slot * CONTROL_ROOM;
  }

  controlLength(slot: number): number {
    return this.view.getUint32(slot * HEADER + CONTROL_LENGTH, true);
  }

  #frameAt(slot: number): number {
    return this.#frames + slot * FRAME;
  }
}
