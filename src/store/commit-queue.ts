import { StoreError } from "./store.ts";
import { mergeWork, type Work } from "./work.ts";

export interface CommitQueueParts {
  /** One transaction; rejects when it did not happen. */
  readonly save: (work: Work) => Promise<void>;
  /** The pause after the n-th failure, from 1; `cut` ends it early. */
  readonly pause: (attempt: number, cut: AbortSignal) => Promise<void>;
  /** A sentence when saving fails, and null when it works again. */
  readonly onTrouble: (trouble: string | null) => void;
  /** Events that may wait for a failing disk. When full, new turns are refused. */
  readonly limit: number;
}

/**
 * Turns on their way to the disk. One transaction is under way at a time; turns that come meanwhile
 * are merged into the next, so a slow card makes transactions larger, not the queue longer.
 * A failed transaction keeps its place at the head and is tried again.
 */
export class CommitQueue {
  #waiting: Round | undefined;
  #running: Promise<void> | undefined;
  readonly #closing = new AbortController();

  constructor(readonly parts: CommitQueueParts) {}

  /** Resolves when the work is on the disk. */
  add(work: Work): Promise<void> {
    const waiting = this.#waiting;
    if (waiting !== undefined && waiting.work.events.length >= this.parts.limit) {
      return Promise.reject(
        new StoreError(`${this.parts.limit} events wait for the disk; no more can be kept.`),
      );
    }
    const round = waiting ?? { work, done: Promise.withResolvers<void>() };
    if (waiting !== undefined) waiting.work = mergeWork(waiting.work, work);
    this.#waiting = round;
    this.#running ??= this.#run();
    return round.done.promise;
  }

  /** Waits for what is under way; a disk that still fails gets one more try. */
  async close(): Promise<void> {
    this.#closing.abort();
    await this.#running;
  }

  async #run(): Promise<void> {
    while (this.#waiting !== undefined) {
      const round = this.#waiting;
      this.#waiting = undefined;
      await this.#save(round);
    }
    this.#running = undefined;
  }

  async #save(round: Round): Promise<void> {
    for (let attempt = 1;; attempt++) {
      const last = this.#closing.signal.aborted;
      try {
        await this.parts.save(round.work);
        if (attempt > 1) this.parts.onTrouble(null);
        return round.done.resolve();
      } catch (cause) {
        const said = cause instanceof Error ? cause.message : String(cause);
        const trouble = `The state folder cannot be written now (${said}); it is tried again.`;
        if (last) return round.done.reject(new StoreError(trouble, { cause }));
        this.parts.onTrouble(trouble);
        await this.parts.pause(attempt, this.#closing.signal);
      }
    }
  }
}

interface Round {
  work: Work;
  readonly done: PromiseWithResolvers<void>;
}
