import { type Micros, SECOND } from "../../ground/time.ts";
import type { FrameBatch } from "../frame-batch.ts";
import type { FrameSource } from "../frame-source.ts";
import { HeldFrames } from "../held-frames.ts";
import type { RecordingFolder } from "./recording-folder.ts";

/** Frames that are held at most: half a minute of two full buses. Beyond, sources wait. */
const MOST_HELD = 100_000;

/** Asked to write later than this after the time before, this program was stopped in between. */
const WAS_STOPPED: Micros = SECOND;

/**
 * Records what several live sources say in the order of its times. While a slow disk is waited for,
 * each source goes on to be read: written as they came, the frames of one would lie seconds behind
 * those of another.
 *
 * Order of calls: `take` for every batch, `write` some times a second, `end`.
 */
export class JointRecording {
  readonly #held = new HeldFrames();
  #writing: Promise<void> = Promise.resolve();
  #askedAt: Micros = -Infinity;

  constructor(readonly recordings: RecordingFolder) {}

  /** Holds a batch; waits for the disk only where too much is held. @throws {CannotRecord} */
  async take(source: FrameSource, batch: FrameBatch, now: Micros): Promise<void> {
    this.#held.hold(source, batch);
    if (this.#held.count > MOST_HELD) await this.#writeAll(now);
  }

  /**
   * Writes what is held. After this program was stopped it waits for the next time: what came
   * meanwhile must be read from all sources first.
   * @throws {CannotRecord}
   */
  async write(now: Micros): Promise<void> {
    const wasStopped = now - this.#askedAt > WAS_STOPPED;
    this.#askedAt = now;
    if (!wasStopped) await this.#writeAll(now);
  }

  /** Writes what is still held. @throws {CannotRecord} */
  end(now: Micros): Promise<void> {
    return this.#writeAll(now);
  }

  #writeAll(now: Micros): Promise<void> {
    const writing = this.#writing.then(async () => {
      for (const batch of this.#held.inOrder()) await this.recordings.take(batch, now);
    });
    this.#writing = writing.catch(() => {});
    return writing;
  }
}
