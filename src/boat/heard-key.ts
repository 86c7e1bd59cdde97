import type { CatalogueEntry } from "./catalogue/entry.ts";
import type { KeyPart } from "./row-keys.ts";
import type { HeardKey } from "./subject-match.ts";

/** One part of the key that a message has. */
export interface KeyValue {
  readonly number: number;
  /** Undefined for a code that has no word, and for "not available". */
  readonly text: string | undefined;
}

/** The parts of a packed key, by field. */
export function unpack(key: number, parts: readonly KeyPart[]): Map<string, KeyValue> {
  const values = new Map<string, KeyValue>();
  let rest = key;
  for (const part of parts.toReversed()) {
    const number = rest & part.mask;
    rest >>>= part.width;
    const plain = number === part.mask ? undefined : String(number);
    values.set(part.name, { number, text: part.words === null ? plain : part.words.get(number) });
  }
  return values;
}

/** Whether an entry is about messages with this key. */
export function holds(entry: CatalogueEntry, values: ReadonlyMap<string, KeyValue>): boolean {
  return Object.entries(entry.when ?? {})
    .every(([field, word]) => values.get(field)?.text === word);
}

/** Undefined where a key is not available or has no word. */
export function heardKey(
  entry: CatalogueEntry,
  values: ReadonlyMap<string, KeyValue>,
  source: number,
): HeardKey | undefined {
  let heard: HeardKey = entry.by === "address" ? { address: source } : {};
  for (const { field, part } of entry.keys) {
    const value = values.get(field);
    if (value?.text === undefined) return undefined;
    heard = { ...heard, [part]: part === "instance" ? value.number : value.text };
  }
  return heard;
}
