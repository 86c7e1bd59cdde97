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

/**
 * The same frames, cut wherever none came for longer than `longest` though some may have been sent:
 * what follows says that no time passed (`FrameBatch.clockStep`).
 * @param before the last time before the first frame
 * @param from a hole that ends earlier is none
 */
export function* withoutHoles(
  batches: Iterable<FrameBatch>,
  before: Micros,
  longest: Micros,
  from: Micros,
): Generator<FrameBatch> {
  let last = before;
  for (const batch of batches) {
    let begin = 0;
    let hole = 0;
    for (let i = 0; i < batch.count; i++) {
      const time = batch.times[i];
      const gap = time - last;
      last = time;
      if (gap <= longest || time < from) continue;
      if (i > begin) yield afterHole(partOf(batch, begin, i), hole);
      begin = i;
      hole = gap;
    }
    yield afterHole(partOf(batch, begin, batch.count), hole);
  }
}

function afterHole(batch: FrameBatch, hole: Micros): FrameBatch {
  if (hole > 0) batch.clockStep = hole;
  return batch;
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
