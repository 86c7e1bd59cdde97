import { FrameFlag } from "./frame-batch.ts";

// Linux (`can.h`) and link types 227, 113 and 276 keep an identifier and three bits beside it in a word.
const EXTENDED_BIT = 0x80000000;
const REMOTE_BIT = 0x40000000;
const ERROR_BIT = 0x20000000;

/** `FrameFlag` bits of such a word. */
export function flagsOfWord(word: number): number {
  if ((word & ERROR_BIT) !== 0) return FrameFlag.error;
  return ((word & EXTENDED_BIT) !== 0 ? FrameFlag.extended : 0) |
    ((word & REMOTE_BIT) !== 0 ? FrameFlag.remote : 0);
}

/** The identifier in such a word, or the class of its error. */
export function identifierOfWord(word: number, flags: number): number {
  return word & ((flags & (FrameFlag.extended | FrameFlag.error)) !== 0 ? 0x1fffffff : 0x7ff);
}
