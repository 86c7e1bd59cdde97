import type { AlarmChange } from "../alarms/change.ts";
import type { Micros } from "../ground/time.ts";
import type { History } from "./history.ts";

/**
 * What Sternfast keeps over a restart, all of it plain data:
 *
 * - alarm events, numbered from 1 for ever; they are the outbox of every outlet;
 * - for each outlet the last event that is settled there (its *mark*);
 * - the history of signals by the minute (`history.ts`);
 * - small JSON documents by kind and key: alarm memory, the rules last accepted, single facts.
 *
 * Order of calls: open, read what was kept, then `commit` once a turn that has something to keep;
 * outlets follow with `mark` and `eventsAfter`; `close` at the end.
 */
export interface Store {
  /** Made at random with the state folder: with it an event number is unique for ever. */
  readonly epoch: string;
  /** Number of the newest event, saved or on its way to the disk; 0 before the first. */
  readonly lastNumber: number;
  readonly history: History;
  /** Whole or not at all. Numbers are given at once; an outlet waits for `saved`. */
  commit(turn: Turn): Commit;
  documents(kind: DocumentKind): Promise<ReadonlyMap<string, string>>;
  /** Saved events with a higher number, oldest first, at most `limit` of them. */
  eventsAfter(number: number, limit: number): Promise<readonly AlarmEvent[]>;
  /**
   * Number of the last event that is settled for an outlet. An outlet that was never seen before
   * owes everything since the `first` event, or nothing up to the `last` one.
   */
  mark(outlet: string, unseen: "first" | "last"): Promise<number>;
  /**
   * Lets go of events that were settled at an outlet before a wall time, and that no other outlet
   * owes; the newest event always stays, so that its number is never given again.
   */
  forgetSettled(outlet: string, before: Micros): Promise<void>;
  /** Saves what still waits, then lets go of the folder. */
  close(): Promise<void>;
}

/** What one turn of the program has to keep. */
export interface Turn {
  readonly changes?: readonly AlarmChange[];
  readonly documents?: readonly Document[];
  readonly settled?: readonly Settlement[];
}

export interface Commit {
  /** The turn's changes with their numbers, in the order given. */
  readonly events: readonly AlarmEvent[];
  /** Resolves once all of the turn is on the disk. A failing disk is tried again, not given up. */
  readonly saved: Promise<void>;
}

export interface AlarmEvent {
  readonly number: number;
  readonly change: AlarmChange;
}

/**
 * - `alarm-memory`: by `TAG/SUBJECT`
 * - `accepted-rules`: the text of each rule file of the set that was last accepted, by file name
 * - `retained-topic`: what lies on the broker under our name, by topic
 * - `told`: a message to a person's phone and how it stands, by its key
 * - `fact`: anything single, such as the last saved time
 */
export type DocumentKind =
  | "alarm-memory"
  | "accepted-rules"
  | "retained-topic"
  | "told"
  | "fact";

export interface Document {
  readonly kind: DocumentKind;
  readonly key: string;
  /** JSON, or a file's text; null removes the document. */
  readonly text: string | null;
}

/** An outlet has finished with every event up to this one: accepted, or refused for good. */
export interface Settlement {
  readonly outlet: string;
  readonly number: number;
  readonly outcome: "accepted" | "refused";
  /** Wall time. */
  readonly time: Micros;
}

/** Why keeping things failed, as a sentence for the owner. */
export class StoreError extends Error {
  override readonly name = "StoreError";
}
