import type { FrameBatch } from "../bus/frame-batch.ts";
import { type FrameSource, SourceEndedEarly } from "../bus/frame-source.ts";
import { type Micros, SECOND } from "../ground/time.ts";
import type { Timeline } from "../ground/timeline.ts";

/** What a run's frames are given to: the pipeline, or what goes with it. */
export interface Follower {
  feed(batch: FrameBatch): void;
  readonly timeline: Timeline;
}

/** One recording of a run; run times of its first and last frame. */
export interface RunPart {
  readonly title: string;
  /** Its place among the sources. */
  readonly source: number;
  readonly begins: Micros;
  readonly ends: Micros;
}

/** One run: recordings whose ends meet, followed from a cold start. */
export interface Run<F extends Follower> {
  readonly follower: F;
  readonly parts: readonly RunPart[];
  readonly begins: Micros;
  readonly ends: Micros;
  /** The source that begins the next run; how many there are, for the last. */
  readonly next: number;
  /** Sentences about recordings of the run that end before they should. */
  readonly endedEarly: readonly string[];
}

/** Recordings whose ends meet within this time were one before they were cut (contract §1). */
const MEETING: Micros = 2 * SECOND;

/**
 * Takes recordings in time order and yields each run when it is over. A recording that begins where
 * the one before it ended goes on in the same run, so that a rotated file cuts nothing.
 * @param newFollower a cold start, given the wall time of the first frame
 * @param onBatch called after each batch
 */
export async function* runsOf<F extends Follower>(
  sources: Iterable<FrameSource> | AsyncIterable<FrameSource>,
  newFollower: (begins: Micros) => F,
  onBatch: (run: Run<F>) => void = () => {},
): AsyncGenerator<Run<F>> {
  let run: OpenRun<F> | undefined;
  let number = 0;
  for await (const source of sources) {
    let part: OpenPart | undefined;
    try {
      for await (const batch of source.batches()) {
        if (batch.count === 0) continue;
        const stamp = batch.times[0];
        if (part === undefined && run !== undefined && Math.abs(stamp - run.last) > MEETING) {
          run.next = number;
          yield run;
          run = undefined;
        }
        run ??= openRun(newFollower(stamp), stamp);
        if (part === undefined) {
          const begins = run.follower.timeline.steadyOf(stamp);
          part = { title: source.title, source: number, begins, ends: begins };
          run.parts.push(part);
        }
        run.follower.feed(batch);
        run.ends = part.ends = run.follower.timeline.now;
        run.last = batch.times[batch.count - 1];
        onBatch(run);
      }
    } catch (error) {
      if (!(error instanceof SourceEndedEarly)) throw error;
      run ??= openRun(newFollower(0), 0);
      run.endedEarly.push(error.message);
    }
    number++;
  }
  if (run === undefined) return;
  run.next = number;
  yield run;
}

interface OpenPart extends RunPart {
  ends: Micros;
}

interface OpenRun<F extends Follower> extends Run<F> {
  readonly parts: OpenPart[];
  ends: Micros;
  /** Stamp of the last frame. */
  last: Micros;
  next: number;
  readonly endedEarly: string[];
}

function openRun<F extends Follower>(follower: F, begins: Micros): OpenRun<F> {
  return { follower, parts: [], begins, ends: begins, last: begins, next: 0, endedEarly: [] };
}
