import type {
  AlarmEvent,
  Commit,
  Document,
  DocumentKind,
  Settlement,
  Store,
  Turn,
} from "./store.ts";

/** A store that lasts as long as the program: rehearsals, and a run without a state folder. */
export class MemoryStore implements Store {
  readonly #events: AlarmEvent[] = [];
  readonly #documents = new Map<DocumentKind, Map<string, string>>();
  readonly #marks = new Map<string, number>();

  constructor(readonly epoch: string) {}

  get lastNumber(): number {
    return this.#events.length;
  }

  commit({ changes = [], documents = [], settled = [] }: Turn): Commit {
    const events = changes.map((change, i) => ({ number: this.lastNumber + 1 + i, change }));
    this.#events.push(...events);
    documents.forEach((document) => this.#put(document));
    settled.forEach((settlement) => this.#settle(settlement));
    return { events, saved: Promise.resolve() };
  }

  documents(kind: DocumentKind): Promise<ReadonlyMap<string, string>> {
    return Promise.resolve(new Map(this.#documents.get(kind)));
  }

  eventsAfter(number: number, limit: number): Promise<AlarmEvent[]> {
    return Promise.resolve(this.#events.slice(number, number + limit));
  }

  mark(outlet: string, unseen: "first" | "last"): Promise<number> {
    const mark = this.#marks.get(outlet) ?? (unseen === "first" ? 0 : this.lastNumber);
    this.#marks.set(outlet, mark);
    return Promise.resolve(mark);
  }

  close(): Promise<void> {
    return Promise.resolve();
  }

  #put({ kind, key, text }: Document): void {
    const documents = this.#documents.get(kind) ?? new Map<string, string>();
    if (text === null) documents.delete(key);
    else documents.set(key, text);
    this.#documents.set(kind, documents);
  }

  #settle({ outlet, number }: Settlement): void {
    this.#marks.set(outlet, Math.max(number, this.#marks.get(outlet) ?? 0));
  }
}
