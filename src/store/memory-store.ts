import type { Micros } from "../ground/time.ts";
import { MemoryHistory } from "./memory-history.ts";
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
  #events: AlarmEvent[] = [];
  /** Number of the last event that was let go. */
  #forgotten = 0;
  readonly #documents = new Map<DocumentKind, Map<string, string>>();
  readonly #marks = new Map<string, number>();
  #settled: Settlement[] = [];

  #history: MemoryHistory | undefined;

  constructor(readonly epoch: string) {}

  get history(): MemoryHistory {
    return this.#history ??= new MemoryHistory();
  }

  get lastNumber(): number {
    return this.#forgotten + this.#events.length;
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
    const from = Math.max(0, number - this.#forgotten);
    return Promise.resolve(this.#events.slice(from, from + limit));
  }

  mark(outlet: string, unseen: "first" | "last"): Promise<number> {
    const mark = this.#marks.get(outlet) ?? (unseen === "first" ? 0 : this.lastNumber);
    this.#marks.set(outlet, mark);
    return Promise.resolve(mark);
  }

  forgetSettled(outlet: string, before: Micros): Promise<void> {
    const old = this.#settled.filter((one) => one.outlet === outlet && one.time <= before)
      .map(({ number }) => number);
    this.#settled = this.#settled.filter((one) => one.time > before);
    const last = Math.min(Math.max(0, ...old), ...this.#marks.values(), this.lastNumber - 1);
    const gone = Math.max(0, last - this.#forgotten);
    this.#events = this.#events.slice(gone);
    this.#forgotten += gone;
    return Promise.resolve();
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

  #settle(settlement: Settlement): void {
    const { outlet, number } = settlement;
    this.#settled.push(settlement);
    this.#marks.set(outlet, Math.max(number, this.#marks.get(outlet) ?? 0));
  }
}
