import { FRAME_BYTES, type FrameBatch, FrameFlag } from "../../frame-batch.ts";
import { HEX_VALUE } from "../../recordings/hex-digits.ts";

/** Kinds of line that hold a frame, by their first byte: flags, and digits of the identifier. */
const KINDS: Readonly<Record<number, { readonly flags: number; readonly digits: number }>> = {
  [0x74]: { flags: 0, digits: 3 }, // t
  [0x54]: { flags: FrameFlag.extended, digits: 8 }, // T
  [0x72]: { flags: FrameFlag.remote, digits: 3 }, // r
  [0x52]: { flags: FrameFlag.extended | FrameFlag.remote, digits: 8 }, // R
};

/** Digits of the milliseconds that follow a frame where the adapter stamps. */
const STAMP_DIGITS = 4;

/** No line is longer: `T`, identifier, length, data and stamp. */
export const LONGEST_LINE = 1 + 8 + 1 + 16 + STAMP_DIGITS;

export const NO_STAMP = -1;

export function beginsFrame(byte: number): boolean {
  return byte in KINDS;
}

/**
 * Reads one line such as `T18FF00018 0102030405060708 1A2B` (without the spaces, which are here for
 * the eye) into the next place of a batch, without its time. Returns the adapter's milliseconds,
 * `NO_STAMP`, or undefined where the line is malformed; the place counts only once the caller says so.
 */
export function readFrameLine(
  line: Uint8Array,
  length: number,
  batch: FrameBatch,
): number | undefined {
  const { flags, digits } = KINDS[line[0]];
  const identifier = hexadecimal(line, 1, digits, length);
  const said = length > digits + 1 ? line[digits + 1] - 0x30 : -1;
  if (identifier < 0 || said < 0 || said > FRAME_BYTES) return undefined;
  if (identifier > ((flags & FrameFlag.extended) !== 0 ? 0x1fffffff : 0x7ff)) return undefined;
  const index = batch.count;
  const to = index * FRAME_BYTES;
  let at = digits + 2;
  const bytes = (flags & FrameFlag.remote) !== 0 ? 0 : said;
  for (let i = 0; i < bytes; i++, at += 2) {
    const byte = hexadecimal(line, at, 2, length);
    if (byte < 0) return undefined;
    batch.data[to + i] = byte;
  }
  batch.flags[index] = flags;
  batch.identifiers[index] = identifier;
  batch.lengths[index] = said;
  if (at === length) return NO_STAMP;
  const stamp = at + STAMP_DIGITS === length ? hexadecimal(line, at, STAMP_DIGITS, length) : -1;
  return stamp < 0 ? undefined : stamp;
}

/** The value of some digits; -1 where they are not all there. */
function hexadecimal(line: Uint8Array, from: number, digits: number, length: number): number {
  if (from + digits > length) return -1;
  let value = 0;
  for (let at = from; at < from + digits; at++) {
    const digit = HEX_VALUE[line[at]];
    if (digit < 0) return -1;
    value = value * 16 + digit;
  }
  return value;
}
