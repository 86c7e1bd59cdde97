import type { Document, DocumentKind } from "./store.ts";

/**
 * The documents that make what is kept of one kind into a new whole: rule files that were dropped
 * must not come back with a later restart. What is the same needs no writing.
 */
export function replaceDocuments(
  kind: DocumentKind,
  before: ReadonlyMap<string, string>,
  after: ReadonlyMap<string, string>,
): Document[] {
  const removed = [...before.keys()].filter((key) => !after.has(key))
    .map((key) => ({ kind, key, text: null }));
  const written = [...after].filter(([key, text]) => before.get(key) !== text)
    .map(([key, text]) => ({ kind, key, text }));
  return [...removed, ...written];
}
