import { ERROR_KINDS } from "./error-kinds.ts";
import type { FrameBatch } from "./frame-batch.ts";
import {
  emptyCounts,
  type FrameSource,
  type SourceCounts,
  SourceEndedEarly,
  type SourceProblem,
} from "./frame-source.ts";
import { KEPT_PROBLEMS } from "./source-tally.ts";

/**
 * Recordings one after another as one source. Where one of them ends early the next still follows,
 * since that is what a computer that loses its power leaves behind; it is said at the end.
 */
export class SourceSequence implements FrameSource {
  readonly title: string;
  readonly live = false;
  readonly #sources: readonly FrameSource[];
  readonly #before: readonly SourceProblem[];
  #stopped = false;

  /** `before`: problems met while the recordings were looked for. */
  constructor(
    title: string,
    sources: readonly FrameSource[],
    before: readonly SourceProblem[] = [],
  ) {
    this.title = title;
    this.#sources = sources;
    this.#before = before;
  }

  get counts(): SourceCounts {
    const sum = emptyCounts();
    for (const { counts } of this.#sources) {
      sum.frames += counts.frames;
      sum.standard += counts.standard;
      sum.remote += counts.remote;
      sum.error += counts.error;
      for (const kind of ERROR_KINDS) {
        const more = counts.errorKinds[kind];
        if (more !== undefined) sum.errorKinds[kind] = (sum.errorKinds[kind] ?? 0) + more;
      }
      sum.fd += counts.fd;
      sum.malformed += counts.malformed;
      sum.dropped += counts.dropped;
      sum.clockJumps += counts.clockJumps;
      sum.clockJumpedBy += counts.clockJumpedBy;
    }
    return sum;
  }

  get problems(): readonly SourceProblem[] {
    const inside = this.#sources.flatMap(({ title, problems }) =>
      problems.map((problem) => ({ ...problem, recording: problem.recording ?? title }))
    );
    return [...this.#before, ...inside].slice(0, KEPT_PROBLEMS);
  }

  stop(): void {
    this.#stopped = true;
    for (const source of this.#sources) source.stop();
  }

  async *batches(): AsyncGenerator<FrameBatch> {
    const early: string[] = [];
    for (const source of this.#sources) {
      if (this.#stopped) return;
      try {
        yield* source.batches();
      } catch (error) {
        if (!(error instanceof SourceEndedEarly)) throw error;
        early.push(error.message);
      }
    }
    if (early.length > 0) throw new SourceEndedEarly(early.join("; "));
  }
}
