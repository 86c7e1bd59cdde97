import type { Micros } from "../../../ground/time.ts";
import { SocketOption } from "./linux-can.ts";

/** `struct cmsghdr`: length u64 at 0 (itself included), level i32 at 8, type i32 at 12. */
const HEADER = 16;
const LEVEL = 8;
const TYPE = 12;
/** One message begins at a multiple of this after the one before. */
const ALIGNMENT = 8;
/** `struct timespec`: seconds i64 at 0, nanoseconds i64 at 8. */
const STAMP_LENGTH = 16;
const COUNT_LENGTH = 4;

/** Room for a stamp and a drop count, each with its header. */
export const CONTROL_ROOM = 64;

/** What the kernel says beside one frame. */
export class ControlMessages {
  /** When the kernel took the frame in, on the wall clock; undefined if it did not say. */
  stamp: Micros | undefined;
  /** Frames that this socket has lost so far, modulo 2³²; undefined if none were or it did not say. */
  dropped: number | undefined;

  /** Reads the control messages in `length` bytes at `from`. */
  read(bytes: DataView, from: number, length: number): void {
    this.stamp = undefined;
    this.dropped = undefined;
    const end = from + length;
    let at = from;
    while (at + HEADER <= end) {
      const size = bytes.getUint32(at, true);
      if (size < HEADER || at + size > end) return;
      if (bytes.getInt32(at + LEVEL, true) === SocketOption.level) {
        this.#take(bytes, at + HEADER, bytes.getInt32(at + TYPE, true), size - HEADER);
      }
      at += Math.ceil(size / ALIGNMENT) * ALIGNMENT;
    }
  }

  #take(bytes: DataView, at: number, type: number, length: number): void {
    if (type === SocketOption.timestamps && length >= STAMP_LENGTH) {
      const seconds = bytes.getUint32(at, true) + bytes.getInt32(at + 4, true) * 2 ** 32;
      const nanoseconds = bytes.getUint32(at + 8, true);
      this.stamp = seconds * 1_000_000 + Math.floor(nanoseconds / 1_000);
    } else if (type === SocketOption.dropCount && length >= COUNT_LENGTH) {
      this.dropped = bytes.getUint32(at, true);
    }
  }
}
