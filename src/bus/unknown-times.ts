import type { Micros } from "../ground/time.ts";
import { type FrameBatch, partOf } from "./frame-batch.ts";

/** Nobody knows what a source said after one time and before another, or when it said it. */
export interface UnknownTime {
  readonly from: Micros;
  readonly to: Micros;
}

export interface SearchedTime {
  /** The last time before the first frame. */
  readonly before: Micros;
  /** What is no longer is an ordinary pause between frames. */
  readonly longest: Micros;
  /** A pause that ends earlier was one indeed. */
  readonly endsFrom: Micros;
}

/** The pauses between frames of one source, where some may have been sent. */
export function unknownTimesIn(
  batches: Iterable<FrameBatch>,
  { before, longest, endsFrom }: SearchedTime,
): UnknownTime[] {
  const found: UnknownTime[] = [];
  let from = before;
  for (const { times, count } of batches) {
    for (let i = 0; i < count; i++) {
      const to = times[i];
      if (to - from > longest && to >= endsFrom) found.push({ from, to });
      from = Math.max(from, to);
    }
  }
  return found;
}

/** The same frames, whose stamps may be written over, so that no time passes in what is unknown. */
export function* withoutUnknownTimes(
  batches: Iterable<FrameBatch>,
  unknown: readonly UnknownTime[],
): Generator<FrameBatch> {
  const left = joined(unknown);
  for (const batch of batches) {
    let begin = 0;
    let step: Micros = 0;
    for (let i = 0; i < batch.count && left.length > 0; i++) {
      const time = batch.times[i];
      const { from, to } = left[0];
      if (time >= to) {
        if (i > begin) yield stepped(partOf(batch, begin, i), step);
        begin = i;
        step = to - from;
        left.shift();
      } else if (time > from) {
        batch.times[i] = from;
      }
    }
    yield stepped(partOf(batch, begin, batch.count), step);
  }
}

/** A batch that says that no time passed before it (`FrameBatch.clockStep`). */
function stepped(batch: FrameBatch, step: Micros): FrameBatch {
  if (step > 0) batch.clockStep = step;
  return batch;
}

/** In their order, those that touch as one. */
function joined(unknown: readonly UnknownTime[]): UnknownTime[] {
  const all: UnknownTime[] = [];
  for (const { from, to } of unknown.toSorted((a, b) => a.from - b.from)) {
    const last = all.at(-1);
    if (last === undefined || from > last.to) all.push({ from, to });
    else if (to > last.to) all[all.length - 1] = { from: last.from, to };
  }
  return all;
}
