import { backOff } from "../ground/back-off.ts";
import { type Micros, MILLISECOND, SECOND } from "../ground/time.ts";
import { CommitQueue } from "./commit-queue.ts";
import { readEvent, writeEvent } from "./event-text.ts";
import { type AlarmEvent, type Commit, type DocumentKind, type Store, type Turn } from "./store.ts";
import type { StoreReply } from "./worker-messages.ts";
import { StoreThread } from "./store-thread.ts";
import { WorkerHistory } from "./worker-history.ts";

export interface StoreOptions {
  /** A sentence when saving begins to fail, and null when it works again. */
  readonly onTrouble?: (trouble: string | null) => void;
  /** From 0 to 1, for the jitter between tries. */
  readonly random?: () => number;
}

/**
 * The store in a state folder, which is made if it is not there.
 * @throws {StoreError} when the folder cannot be written, is in use, damaged, or newer than this
 */
export async function openStore(folder: string, options: StoreOptions = {}): Promise<Store> {
  const thread = new StoreThread();
  try {
    const opened = await thread.ask({ kind: "open", folder }, "opened");
    return new WorkerStore(thread, opened, options);
  } catch (error) {
    thread.end();
    throw error;
  }
}

/** Numbers events, and hands everything to the thread that owns the disk. */
class WorkerStore implements Store {
  readonly #queue: CommitQueue;
  readonly history: WorkerHistory;

  readonly epoch: string;
  lastNumber: number;

  constructor(
    readonly thread: StoreThread,
    { epoch, lastNumber, lastSheet }: Extract<StoreReply, { kind: "opened" }>,
    { onTrouble = () => {}, random = () => 1 }: StoreOptions,
  ) {
    this.epoch = epoch;
    this.lastNumber = lastNumber;
    this.history = new WorkerHistory(thread, lastSheet);
    this.#queue = new CommitQueue({
      save: async (work) => void await thread.ask({ kind: "save", work }, "saved"),
      pause: (attempt, cut) => pause(backOff(attempt, random(), 30 * SECOND), cut),
      onTrouble,
      limit: 20_000,
    });
  }

  commit({ changes = [], documents = [], settled = [] }: Turn): Commit {
    const events = changes.map((change) => ({ number: ++this.lastNumber, change }));
    const saved = this.#queue.add({ events: events.map(writeEvent), documents, settled });
    // A failure was told through `onTrouble`; who does not wait for `saved` need not hear it twice.
    saved.catch(() => {});
    return { events, saved };
  }

  async documents(of: DocumentKind): Promise<ReadonlyMap<string, string>> {
    return (await this.thread.ask({ kind: "documents", of }, "documents")).documents;
  }

  async eventsAfter(after: number, limit: number): Promise<AlarmEvent[]> {
    return (await this.thread.ask({ kind: "events", after, limit }, "events")).events
      .map(readEvent);
  }

  async mark(outlet: string, unseen: "first" | "last"): Promise<number> {
    return (await this.thread.ask({ kind: "mark", outlet, unseen }, "mark")).number;
  }

  async forgetSettled(outlet: string, before: Micros): Promise<void> {
    await this.thread.ask({ kind: "forget", outlet, before }, "forgotten");
  }

  async close(): Promise<void> {
    await this.#queue.close();
    await this.thread.ask({ kind: "close" }, "closed");
    this.thread.end();
  }
}

function pause(length: number, cut: AbortSignal): Promise<void> {
  const { promise, resolve } = Promise.withResolvers<void>();
  const timer = setTimeout(resolve, length / MILLISECOND);
  cut.addEventListener("abort", () => resolve(), { once: true });
  return promise.finally(() => clearTimeout(timer));
}
