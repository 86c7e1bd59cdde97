import type { Document, Settlement } from "./store.ts";

/** An event as it lies on the disk. */
export interface EventText {
  readonly number: number;
  /** `AlarmChange` as JSON. */
  readonly text: string;
}

/** What goes to the disk in one transaction: one turn, or several that had to wait. */
export interface Work {
  readonly events: readonly EventText[];
  readonly documents: readonly Document[];
  readonly settled: readonly Settlement[];
}

/** Two turns as one: all events, but of each document and each outlet only the newest word. */
export function mergeWork(earlier: Work, later: Work): Work {
  return {
    events: [...earlier.events, ...later.events],
    documents: newest(
      [...earlier.documents, ...later.documents],
      ({ kind, key }) => `${kind} ${key}`,
    ),
    settled: newest(
      [...earlier.settled, ...later.settled],
      ({ outlet, number }) => `${number} ${outlet}`,
    ),
  };
}

function newest<T>(items: readonly T[], keyOf: (item: T) => string): T[] {
  return [...new Map(items.map((item) => [keyOf(item), item])).values()];
}
