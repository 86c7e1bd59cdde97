import type { FrameBatch } from "./frame-batch.ts";

/**
 * Bytes in, frames out, as the bytes come: what is cut at the end of one piece waits inside for the
 * next, within a bound. Counts and problems go to the `SourceTally` that the parser was made with.
 */
export interface FrameParser {
  /**
   * Parses from `from` until the batch is full or the bytes are used up, and returns the place of
   * the first byte not used. The batch must have room.
   */
  parse(bytes: Uint8Array, from: number, batch: FrameBatch): number;
  /**
   * No more bytes come: adds a last frame that was only waiting for its line's end, which needs
   * room in the batch. Returns a clause ("ends in the middle of record 12") if something was cut
   * off, else undefined.
   */
  end(batch: FrameBatch): string | undefined;
}
