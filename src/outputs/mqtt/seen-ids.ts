import { z } from "zod";
import type { Document } from "../../store/store.ts";

z.config({ jitless: true });

/** Ids remembered while the program runs, and over a restart. */
const REMEMBERED = 1_000;
const KEPT = 100;

/** Ids of commands that were here: a command that comes twice is carried out once. */
export class SeenIds {
  /** Oldest first. */
  readonly #seen: Set<string>;

  /** @param kept what `kept` gave before a restart */
  constructor(kept: readonly string[] = []) {
    this.#seen = new Set(kept);
  }

  /** True when the id was here before; from now on it was. */
  isRepeated(id: string): boolean {
    if (this.#seen.has(id)) return true;
    this.#seen.add(id);
    if (this.#seen.size > REMEMBERED) {
      for (const oldest of this.#seen) {
        this.#seen.delete(oldest);
        break;
      }
    }
    return false;
  }

  /** The newest ids, oldest first. */
  get kept(): string[] {
    return [...this.#seen].slice(-KEPT);
  }
}

/** Where they lie in the store, among the facts. */
export const SEEN_IDS = "command-ids";

export function seenDocument(ids: readonly string[]): Document {
  return { kind: "fact", key: SEEN_IDS, text: JSON.stringify(ids) };
}

/** What makes no sense is as good as nothing. */
export function readSeen(text = "[]"): string[] {
  try {
    return z.array(z.string()).parse(JSON.parse(text));
  } catch {
    return [];
  }
}
