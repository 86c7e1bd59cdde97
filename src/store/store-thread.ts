import { StoreError } from "./store.ts";
import type { StoreReply, StoreRequest } from "./worker-messages.ts";

/** The worker as questions and answers. It answers in order, so the oldest question is meant. */
export class StoreThread {
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
