import { FrameBatch } from "../bus/frame-batch.ts";
import { emptyCounts, type FrameSource, type SourceProblem } from "../bus/frame-source.ts";
import { type Micros, MILLISECOND, SECOND } from "../ground/time.ts";
import type { Simulator } from "./simulator.ts";

const BATCH_FRAMES = 4096;
/** Boat time of one batch: at the pace of a clock, and as fast as it is read. */
const PACED_SLICE: Micros = 50 * MILLISECOND;
const FAST_SLICE: Micros = 10 * SECOND;
/** Frames that queue for the bus may come this much after they were due. */
const QUEUE: Micros = 30 * MILLISECOND;

/** Settles when the clock has reached a time, or soon after `stop` was called. */
export type Pace = (time: Micros) => Promise<void>;

/**
 * The simulator as a source of frames. With a pace it is a live bus and goes on until it is
 * stopped; without, it is a recording as long as its scenario.
 */
export class SimulatorSource implements FrameSource {
  readonly title: string;
  readonly live: boolean;
  readonly madeUp = true;
  readonly counts = emptyCounts();
  readonly problems: readonly SourceProblem[] = [];
  #stopped = false;

  constructor(readonly simulator: Simulator, readonly pace?: Pace) {
    this.title = `simulator:${simulator.scenario.name}`;
    this.live = pace !== undefined;
  }

  async *batches(): AsyncIterable<FrameBatch> {
    const { simulator, pace } = this;
    const batch = new FrameBatch(BATCH_FRAMES);
    const slice = this.live ? PACED_SLICE : FAST_SLICE;
    const end = this.live ? Infinity : simulator.start + simulator.scenario.lasting;
    let reached = simulator.start;
    while (reached < end && !this.#stopped) {
      reached = Math.min(reached + slice, end);
      await pace?.(reached + QUEUE);
      let whole = false;
      while (!whole && !this.#stopped) {
        batch.count = 0;
        whole = simulator.fill(batch, reached);
        this.counts.frames += batch.count;
        if (batch.count > 0) yield batch;
      }
    }
  }

  stop(): void {
    this.#stopped = true;
  }
}
