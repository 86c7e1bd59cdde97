import type { FrameBatch } from "../../src/bus/frame-batch.ts";
import { CandumpWriter } from "../../src/bus/recordings/candump-writer.ts";
import { type Micros, SECOND } from "../../src/ground/time.ts";
import { fullBus } from "./full-bus.ts";

const ROUND = 1_000_000;

/**
 * Candump lines of a full bus for so many millions of frames: the same million at later times.
 * @param shift added to every time
 */
export function* longLog(millions: number, shift: Micros = 0): Generator<Uint8Array> {
  const bus = fullBus(ROUND);
  const length = Math.ceil(bus.seconds) * SECOND;
  const writer = new CandumpWriter(bus.buses);
  for (const batch of bus.batches) later(batch, shift);
  for (let left = millions * ROUND; left > 0; left -= ROUND) {
    for (const batch of bus.batches.slice(0, Math.ceil(left / ROUND * bus.batches.length))) {
      yield writer.lines(batch);
      later(batch, length);
    }
  }
}

function later(batch: FrameBatch, by: number): void {
  for (let i = 0; i < batch.count; i++) batch.times[i] += by;
}
