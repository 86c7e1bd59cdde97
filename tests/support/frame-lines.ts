import { FrameBatch, FrameFlag } from "../../src/bus/frame-batch.ts";
import type { Micros } from "../../src/ground/time.ts";

/**
 * A batch from lines such as `18ECFF00 20 28 00 06 FF EE FF 00`, as documents print frames.
 *
 * @param gap time from one frame to the next
 */
export function batchOfLines(lines: readonly string[], gap: Micros): FrameBatch {
  const batch = new FrameBatch(lines.length);
  for (const [i, line] of lines.entries()) {
    const [identifier, ...bytes] = line.trim().split(/\s+/).map((text) => parseInt(text, 16));
    batch.times[i] = i * gap;
    batch.flags[i] = FrameFlag.extended;
    batch.identifiers[i] = identifier;
    batch.lengths[i] = bytes.length;
    batch.data.set(bytes, i * 8);
  }
  batch.count = lines.length;
  return batch;
}
