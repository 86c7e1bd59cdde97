import { backOff } from "../ground/back-off.ts";
import { type Micros, MILLISECOND, SECOND } from "../ground/time.ts";
import { CommitQueue } from "./commit-queue.ts";
import { readEvent, writeEvent } from "./event-text.ts";
import {
  type AlarmEvent,
  type Commit,
  type DocumentKind,
  type Store,
  StoreError,
  type Turn,
} from "./store.ts";
import type { StoreReply, StoreRequest } from "./worker-messages.ts";

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
    const { epoch, lastNumber } = await thread.ask({ kind: "open", folder }, "opened");
    return new WorkerStore(thread, epoch, lastNumber, options);
  } catch (error) {
    thread.end();
    throw error;
  }
}

/** Numbers events, and hands everything to the thread that owns the disk. */
class WorkerStore implements Store {
  readonly #queue: CommitQueue;

  constructor(
    readonly thread: StoreThread,
    readonly epoch: string,
    public lastNumber: number,
    { onTrouble = () => {}, random = () => 1 }: StoreOptions,
  ) {
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

/** The worker as questions and answers. It answers in order, so the oldest question is meant. */
class StoreThread {
  readonly #worker = new Worker(new URL("./store-worker.ts", import.meta.url), { type: "module" });
  readonly #asked: PromiseWithResolvers<StoreReply>[] = [];
  /** Why nothing can be asked any more. */
  #ended: StoreError | undefined;

  constructor() {
    this.#worker.onmessage = ({ data }: MessageEvent<StoreReply>) => {
      this.#asked.shift()?.resolve(data);
    };
    this.#worker.onerror = (event) => {
      event.preventDefault();
      this.end(`The store has stopped: ${event.message}`);
    };
  }

  async ask<K extends StoreReply["kind"]>(
    request: StoreRequest,
    expected: K,
  ): Promise<Extract<StoreReply, { kind: K }>> {
    if (this.#ended !== undefined) throw this.#ended;
    const asked = Promise.withResolvers<StoreReply>();
    this.#asked.push(asked);
    this.#worker.postMessage(request);
    const reply = await asked.promise;
    if (isReply(reply, expected)) return reply;
    throw new StoreError(reply.kind === "failed" ? reply.why : `The store said "${reply.kind}".`);
  }

  end(why = "The store is closed."): void {
    this.#ended = new StoreError(why);
    for (const asked of this.#asked.splice(0)) asked.reject(this.#ended);
    this.#worker.terminate();
  }
}

function isReply<K extends StoreReply["kind"]>(
  reply: StoreReply,
  kind: K,
): reply is Extract<StoreReply, { kind: K }> {
  return reply.kind === kind;
}

function pause(length: number, cut: AbortSignal): Promise<void> {
  const { promise, resolve } = Promise.withResolvers<void>();
  const timer = setTimeout(resolve, length / MILLISECOND);
  cut.addEventListener("abort", () => resolve(), { once: true });
  return promise.finally(() => clearTimeout(timer));
}
