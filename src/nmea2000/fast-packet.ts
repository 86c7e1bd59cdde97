import { MILLISECOND } from "../ground/time.ts";

/**
 * Fast packet (IEC 61162-3): up to 223 bytes in up to 32 frames. The first byte of a frame holds the
 * message's sequence counter (3 high bits) and the frame's index (5 low bits); frame 0 has the
 * message's length and 6 bytes, every other 7; unused bytes are ones. From memory.
 */
export const FIRST_FRAME_BYTES = 6;
export const NEXT_FRAME_BYTES = 7;
export const MOST_FAST_PACKET_BYTES = 223;
export const SEQUENCES = 8;

/** A message is given up when its next frame does not come within this time. From memory. */
export const FAST_PACKET_TIMEOUT = 750 * MILLISECOND;

/** Frames that a message of this many bytes takes. */
export function fastPacketFrames(length: number): number {
  return 1 + Math.ceil(Math.max(0, length - FIRST_FRAME_BYTES) / NEXT_FRAME_BYTES);
}
