import { errorKinds } from "./error-kinds.ts";
import { FRAME_BYTES, type FrameBatch, FrameFlag } from "./frame-batch.ts";
import type { SourceEvent } from "./source-event.ts";
import { emptyCounts, type SourceCounts, type SourceProblem } from "./frame-source.ts";

/** Problems that a source keeps; the rest are only counted. */
export const KEPT_PROBLEMS = 20;

/** A line that was cut as the source was opened is no news, nor is a rare one that was spoilt. */
const FIRST_TOLD = 10;
/** After so many times more it is told again. */
const TOLD_AGAIN = 100;

/** What one source has met: the counts and the first problems of `FrameSource`. */
export class SourceTally {
  readonly counts: SourceCounts = emptyCounts();
  readonly problems: SourceProblem[] = [];
  /** How many malformed lines are told of next. */
  #toldNext = FIRST_TOLD;

  /** @param told of a live source: what comes of it at its end may be heard by nobody for months */
  constructor(readonly told?: (event: SourceEvent) => void) {}

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
    const { malformed: count } = this.counts;
    if (count < this.#toldNext) return;
    this.#toldNext *= TOLD_AGAIN;
    this.told?.({ kind: "malformed", count, found: problem.found, expected: problem.expected });
  }
}
