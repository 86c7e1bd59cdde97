import type { Micros } from "../ground/time.ts";
import { FRAME_BYTES, FrameBatch, partOf } from "./frame-batch.ts";
import type { FrameSource } from "./frame-source.ts";

/** Frames of several sources that are kept for a while, and then given in the order of their times. */
export class HeldFrames {
  readonly #batches = new Map<FrameSource, FrameBatch[]>();
  count = 0;

  /** Copies a batch. */
  hold(source: FrameSource, batch: FrameBatch): void {
    const held = this.#batches.get(source) ?? [];
    this.#batches.set(source, held);
    held.push(copyOf(batch));
    this.count += batch.count;
  }

  /** What is held of one source, in its own order. */
  of(source: FrameSource): readonly FrameBatch[] {
    return this.#batches.get(source) ?? [];
  }

  /**
   * All that was held, as views that run in time: of each source its own order, of several sources
   * whichever frame is the oldest. Nothing is held afterwards.
   */
  *inOrder(): Generator<FrameBatch> {
    const queues = [...this.#batches.values()].map((batches) => ({ batches, batch: 0, frame: 0 }));
    this.#batches.clear();
    this.count = 0;
    const nextOf = ({ batches, batch, frame }: typeof queues[number]): Micros =>
      batch < batches.length ? batches[batch].times[frame] : Infinity;
    for (;;) {
      const [first, second] = queues.toSorted((a, b) => nextOf(a) - nextOf(b));
      if (first === undefined || nextOf(first) === Infinity) return;
      const until = second === undefined ? Infinity : nextOf(second);
      const batch = first.batches[first.batch];
      const from = first.frame;
      do first.frame++; while (first.frame < batch.count && batch.times[first.frame] <= until);
      yield partOf(batch, from, first.frame);
      if (first.frame < batch.count) continue;
      first.batch++;
      first.frame = 0;
    }
  }
}

function copyOf({ count, ...batch }: FrameBatch): FrameBatch {
  const copy = new FrameBatch(count);
  copy.count = count;
  copy.clockStep = batch.clockStep;
  copy.times.set(batch.times.subarray(0, count));
  copy.buses.set(batch.buses.subarray(0, count));
  copy.flags.set(batch.flags.subarray(0, count));
  copy.identifiers.set(batch.identifiers.subarray(0, count));
  copy.lengths.set(batch.lengths.subarray(0, count));
  copy.data.set(batch.data.subarray(0, count * FRAME_BYTES));
  return copy;
}
