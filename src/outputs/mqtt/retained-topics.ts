import { z } from "zod";
import type { Document } from "../../store/store.ts";

z.config({ jitless: true });

/** What lies on the broker under a topic of ours. */
const about = z.union([
  z.object({ kind: z.literal("signal"), unit: z.string() }),
  z.object({ kind: z.enum(["alarm", "device", "link"]) }),
]);
export type About = z.infer<typeof about>;

/**
 * The topics that hold a retained message of ours, over restarts, so that what is gone can be
 * cleared. Keys are whole topics: a boat that is renamed leaves nothing behind.
 */
export class RetainedTopics {
  readonly #topics = new Map<string, About>();
  #unsaved: Document[] = [];

  /** @param kept documents of kind `retained-topic`; one that makes no sense is left out */
  constructor(readonly base: string, kept: ReadonlyMap<string, string>) {
    for (const [topic, text] of kept) {
      const read = about.safeParse(parsed(text));
      if (read.success) this.#topics.set(topic, read.data);
    }
  }

  /** Remembers a topic below the base, once. */
  add(topic: string, what: About): void {
    const whole = this.base + topic;
    if (this.#topics.has(whole)) return;
    this.#topics.set(whole, what);
    this.#unsaved.push({ kind: "retained-topic", key: whole, text: JSON.stringify(what) });
  }

  /** Forgets a whole topic, after it was cleared. */
  remove(whole: string): void {
    if (!this.#topics.delete(whole)) return;
    this.#unsaved.push({ kind: "retained-topic", key: whole, text: null });
  }

  /** Topics of one kind below the base, without the base. */
  *ofKind<K extends About["kind"]>(kind: K): Iterable<[string, Extract<About, { kind: K }>]> {
    for (const [topic, what] of this.#topics) {
      if (topic.startsWith(this.base) && isKind(what, kind)) {
        yield [topic.slice(this.base.length), what];
      }
    }
  }

  /** Whole topics from a time when the base was another. */
  foreign(): string[] {
    return [...this.#topics.keys()].filter((topic) => !topic.startsWith(this.base));
  }

  /** What changed since the last call, for the store. */
  takeUnsaved(): Document[] {
    const documents = this.#unsaved;
    if (documents.length > 0) this.#unsaved = [];
    return documents;
  }
}

function isKind<K extends About["kind"]>(
  what: About,
  kind: K,
): what is Extract<About, { kind: K }> {
  return what.kind === kind;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
