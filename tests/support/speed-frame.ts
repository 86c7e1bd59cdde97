import { FrameBatch, FrameFlag } from "../../src/bus/frame-batch.ts";
import type { Micros } from "../../src/ground/time.ts";

/** PGN 127488, engine speed: instance, then speed in steps of 0.25. */
export function speedOf(engine: number, speed: number, time: Micros): FrameBatch {
  const batch = new FrameBatch(1);
  const raw = speed * 4;
  batch.times[0] = time;
  batch.flags[0] = FrameFlag.extended;
  batch.identifiers[0] = (2 << 26 | 127488 << 8 | 1) >>> 0;
  batch.lengths[0] = 8;
  batch.data.set([engine, raw & 0xff, raw >> 8, 0xff, 0xff, 0x7f, 0xff, 0xff]);
  batch.count = 1;
  return batch;
}
