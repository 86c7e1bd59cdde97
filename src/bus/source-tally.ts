import { errorKinds } from "./error-kinds.ts";
import { FRAME_BYTES, type FrameBatch, FrameFlag } from "./frame-batch.ts";
import { emptyCounts, type SourceCounts, type SourceProblem } from "./frame-source.ts";

/** Problems that a source keeps; the rest are only counted. */
export const KEPT_PROBLEMS = 20;

/** What one source has met: the counts and the first problems of `FrameSource`. */
export class SourceTally {
  readonly counts: SourceCounts = emptyCounts();
  readonly problems: SourceProblem[] = [];

  /** Counts one well-formed frame. */
  frame(batch: FrameBatch, index: number): void {
    const flags = batch.flags[index];
    this.counts.frames++;
    if (flags === FrameFlag.extended) return;
    if ((flags & FrameFlag.error) !== 0) {
      this.#error(batch, index);
      return;
    }
    if ((flags & FrameFlag.extended) === 0) this.counts.standard++;
    if ((flags & FrameFlag.remote) !== 0) this.counts.remote++;
    if ((flags & FrameFlag.fd) !== 0) this.counts.fd++;
  }

  #error(batch: FrameBatch, index: number): void {
    this.counts.error++;
    const counts = this.counts.errorKinds;
    const at = index * FRAME_BYTES;
    const { identifiers, lengths, data } = batch;
    for (const kind of errorKinds(identifiers[index], data, at, lengths[index])) {
      counts[kind] = (counts[kind] ?? 0) + 1;
    }
  }

  malformed(problem: SourceProblem): void {
    this.counts.malformed++;
    if (this.problems.length < KEPT_PROBLEMS) this.problems.push(problem);
  }
}
