import { DatabaseSync } from "node:sqlite";
import { z } from "zod";
import { BUILT } from "../ground/clock.ts";
import type { Micros } from "../ground/time.ts";
import type { DocumentKind } from "./store.ts";
import { transaction } from "./transaction.ts";
import type { EventText, Work } from "./work.ts";

/** Raised with every change of the tables below. */
const VERSION = 1;

/** WITHOUT ROWID: the key is the row's place, one write instead of two. */
const TABLES = `
  CREATE TABLE identity (epoch TEXT NOT NULL) STRICT;
  CREATE TABLE event (number INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT;
  CREATE TABLE document (
    kind TEXT NOT NULL, key TEXT NOT NULL, text TEXT NOT NULL,
    PRIMARY KEY (kind, key)
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE settled (
    outlet TEXT NOT NULL, number INTEGER NOT NULL, outcome TEXT NOT NULL, time INTEGER NOT NULL,
    PRIMARY KEY (outlet, number)
  ) STRICT, WITHOUT ROWID;
`;

const count = z.object({ number: z.number() });
const eventRow = z.object({ number: z.number(), text: z.string() });
const documentRow = z.object({ key: z.string(), text: z.string() });

/**
 * The store's SQLite file: plain calls that block until the disk has answered, so they belong in the
 * worker. WAL with `synchronous=FULL`: what a commit has returned from survives a power cut.
 * `locking_mode=EXCLUSIVE`: a second program on the same folder is refused at `open`.
 */
export class StoreTables {
  readonly #database: DatabaseSync;

  /** @throws whatever SQLite says; `open-problem.ts` has the words. */
  constructor(file: string, newEpoch: string) {
    this.#database = new DatabaseSync(file);
    try {
      this.#database.exec("PRAGMA locking_mode = EXCLUSIVE");
      this.#database.exec("PRAGMA journal_mode = WAL");
      this.#database.exec("PRAGMA synchronous = FULL");
      transaction(this.#database, () => this.#prepareTables(newEpoch));
    } catch (error) {
      this.#database.close();
      throw error;
    }
  }

  get epoch(): string {
    const row = this.#database.prepare("SELECT epoch FROM identity").get();
    return z.object({ epoch: z.string() }).parse(row).epoch;
  }

  get lastNumber(): number {
    return this.#number("SELECT coalesce(max(number), 0) AS number FROM event");
  }

  /** What SQLite says it does, for the check that nothing weakened it. */
  settings(): { journalMode: unknown; synchronous: unknown } {
    return {
      journalMode: this.#database.prepare("PRAGMA journal_mode").get()?.journal_mode,
      synchronous: this.#database.prepare("PRAGMA synchronous").get()?.synchronous,
    };
  }

  save(work: Work): void {
    const addEvent = this.#database.prepare("INSERT INTO event VALUES (?, ?)");
    const put = this.#database.prepare("INSERT OR REPLACE INTO document VALUES (?, ?, ?)");
    const remove = this.#database.prepare("DELETE FROM document WHERE kind = ? AND key = ?");
    const settle = this.#database.prepare("INSERT OR REPLACE INTO settled VALUES (?, ?, ?, ?)");
    transaction(this.#database, () => {
      for (const { number, text } of work.events) addEvent.run(number, text);
      for (const { kind, key, text } of work.documents) {
        if (text === null) remove.run(kind, key);
        else put.run(kind, key, text);
      }
      for (const { outlet, number, outcome, time } of work.settled) {
        settle.run(outlet, number, outcome, time);
      }
    });
  }

  documents(kind: DocumentKind): Map<string, string> {
    const rows = this.#database.prepare("SELECT key, text FROM document WHERE kind = ?").all(kind);
    return new Map(z.array(documentRow).parse(rows).map(({ key, text }) => [key, text]));
  }

  eventsAfter(number: number, limit: number): EventText[] {
    const rows = this.#database
      .prepare("SELECT number, text FROM event WHERE number > ? ORDER BY number LIMIT ?")
      .all(number, limit);
    return z.array(eventRow).parse(rows);
  }

  mark(outlet: string, unseen: "first" | "last"): number {
    const known = this.#number(
      "SELECT coalesce(max(number), -1) AS number FROM settled WHERE outlet = ?",
      outlet,
    );
    if (known >= 0) return known;
    const begin = unseen === "first" ? 0 : this.lastNumber;
    this.#database.prepare("INSERT INTO settled VALUES (?, ?, 'begun', 0)").run(outlet, begin);
    return begin;
  }

  /** A time from before the clock was set says nothing of how long ago that was. */
  forgetSettled(outlet: string, before: Micros): void {
    transaction(this.#database, () => {
      this.#database.prepare(`
        DELETE FROM event WHERE number < (SELECT max(number) FROM event)
          AND number <= (SELECT min(mark) FROM
            (SELECT max(number) AS mark FROM settled GROUP BY outlet))
          AND number <= (SELECT coalesce(max(number), 0) FROM settled
            WHERE outlet = ? AND time BETWEEN ? AND ?)
      `).run(outlet, BUILT, before);
      this.#database.prepare(`
        DELETE FROM settled WHERE time < ?
          AND number < (SELECT max(number) FROM settled AS later
            WHERE later.outlet = settled.outlet AND later.time < ?)
      `).run(before, before);
    });
  }

  close(): void {
    this.#database.close();
  }

  #prepareTables(newEpoch: string): void {
    const version = z.object({ user_version: z.number() })
      .parse(this.#database.prepare("PRAGMA user_version").get()).user_version;
    if (version > VERSION) throw new NewerStore();
    if (version === VERSION) return;
    this.#database.exec(TABLES);
    this.#database.prepare("INSERT INTO identity VALUES (?)").run(newEpoch);
    this.#database.exec(`PRAGMA user_version = ${VERSION}`);
  }

  #number(statement: string, ...values: string[]): number {
    return count.parse(this.#database.prepare(statement).get(...values)).number;
  }
}

/** The file was made by a version that knows more tables than this one. */
export class NewerStore extends Error {
  override readonly name = "NewerStore";
}
