import { DatabaseSync, type StatementSync } from "node:sqlite";
import { z } from "zod";
import { DAY, type Micros, MINUTE } from "../ground/time.ts";
import { type Sheet, SHEET_SIZE } from "./history.ts";
import type { MinuteRecord } from "./minute-record.ts";
import { recordsOf, type Series, seriesRow, withRecord } from "./series.ts";
import { transaction } from "./transaction.ts";

const VERSION = 1;

/** `boot` is empty for true minutes, else the start of the computer whose steady clock counts. */
const TABLES = `
  CREATE TABLE series (
    id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE, unit TEXT NOT NULL,
    decimals INTEGER NOT NULL, words TEXT
  ) STRICT;
  CREATE TABLE block (
    boot TEXT NOT NULL, hour INTEGER NOT NULL, series INTEGER NOT NULL, minutes BLOB NOT NULL,
    PRIMARY KEY (boot, hour, series)
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE sheet (
    number INTEGER PRIMARY KEY AUTOINCREMENT, boot TEXT NOT NULL, minute INTEGER NOT NULL,
    first INTEGER NOT NULL, last INTEGER NOT NULL
  ) STRICT;
  CREATE TABLE settled (outlet TEXT PRIMARY KEY, number INTEGER NOT NULL) STRICT, WITHOUT ROWID;
`;

const number = z.object({ number: z.number() });
const sheetRow = z.object({
  number: z.number(),
  minute: z.number(),
  first: z.number(),
  last: z.number(),
});
const blockRow = z.object({
  hour: z.number(),
  series: z.number(),
  minutes: z.instanceof(Uint8Array),
});

/**
 * The history's own SQLite file: plain calls that block, for the worker. `synchronous=NORMAL`: a
 * power cut may cost the last minutes, never what was kept before, and the card lives longer.
 */
export class HistoryTables {
  readonly #database: DatabaseSync;
  /** These two run for every signal and minute. */
  readonly #readBlock: StatementSync;
  readonly #writeBlock: StatementSync;
  readonly #series = new Map<string, Series>();
  readonly #byId = new Map<number, Series>();

  /** @throws whatever SQLite says; `open-problem.ts` has the words. */
  constructor(file: string) {
    this.#database = new DatabaseSync(file);
    try {
      this.#database.exec("PRAGMA locking_mode = EXCLUSIVE");
      this.#database.exec("PRAGMA auto_vacuum = INCREMENTAL");
      this.#database.exec("PRAGMA journal_mode = WAL");
      this.#database.exec("PRAGMA synchronous = NORMAL");
      this.#prepareTables();
      this.#readSeries();
      this.#readBlock = this.#database
        .prepare("SELECT minutes FROM block WHERE boot = ? AND hour = ? AND series = ?");
      this.#writeBlock = this.#database
        .prepare("INSERT OR REPLACE INTO block VALUES (?, ?, ?, ?)");
    } catch (error) {
      this.#database.close();
      throw error;
    }
  }

  get lastSheet(): number {
    return this.#number("SELECT coalesce(max(seq), 0) AS number FROM sqlite_sequence");
  }

  add(records: readonly MinuteRecord[], boot: string): void {
    this.#transaction(() => {
      const placed = records
        .map((record) => ({ record, series: this.#seriesOf(record) }))
        .toSorted((one, other) => one.series.id - other.series.id);
      for (const { record, series } of placed) this.#put(record, series, boot);
      const addSheet = this.#database.prepare(
        "INSERT INTO sheet (boot, minute, first, last) VALUES (?, ?, ?, ?)",
      );
      for (const together of Map.groupBy(placed, ({ record }) => endOf(record)).values()) {
        for (let at = 0; at < together.length; at += SHEET_SIZE) {
          const first = together[at];
          const last = together[Math.min(at + SHEET_SIZE, together.length) - 1];
          addSheet.run(boot, endOf(first.record), first.series.id, last.series.id);
        }
      }
    });
  }

  restamp(boot: string, minutes: number): void {
    this.#transaction(() => {
      const blocks = this.#database
        .prepare("SELECT hour, series, minutes FROM block WHERE boot = ?").all(boot);
      for (const { hour, series: id, minutes: bytes } of z.array(blockRow).parse(blocks)) {
        const series = this.#byId.get(id);
        if (series === undefined) continue;
        for (const record of recordsOf(series, hour, bytes)) {
          this.#put({ ...record, minute: record.minute + minutes }, series, "");
        }
      }
      this.#database.prepare("DELETE FROM block WHERE boot = ?").run(boot);
      this.#database.prepare("UPDATE sheet SET boot = '', minute = minute + ? WHERE boot = ?")
        .run(minutes, boot);
    });
  }

  /** @param boot the computer's present start: its provisional sheets are waited for */
  sheetsAfter(after: number, limit: number, boot: string): Sheet[] {
    const rows = this.#database.prepare(`
      SELECT number, minute, first, last FROM sheet
      WHERE number > ? AND boot = ''
        AND number < (SELECT coalesce(min(number), 9e15) FROM sheet WHERE boot = ?)
      ORDER BY number LIMIT ?
    `).all(after, boot, limit);
    const hours = new Map<string, MinuteRecord[]>();
    return z.array(sheetRow).parse(rows).map(({ number, minute, first, last }) => {
      const around = `${Math.floor(minute / 60)} ${first} ${last}`;
      const found = hours.get(around) ?? this.#recordsAround(minute, first, last);
      hours.set(around, found);
      return { number, records: found.filter((record) => endOf(record) === minute) };
    });
  }

  records(name: string, from: number, to: number): MinuteRecord[] {
    const series = this.#series.get(name);
    if (series === undefined) return [];
    const rows = this.#database.prepare(`
      SELECT hour, series, minutes FROM block
      WHERE boot = '' AND series = ? AND hour BETWEEN ? AND ? ORDER BY hour
    `).all(series.id, Math.floor(from / 60), Math.floor(to / 60));
    return z.array(blockRow).parse(rows)
      .flatMap(({ hour, minutes }) => recordsOf(series, hour, minutes))
      .filter(({ minute }) => minute >= from && minute <= to);
  }

  mark(outlet: string): number {
    return this.#number(
      "SELECT coalesce(max(number), 0) AS number FROM settled WHERE outlet = ?",
      outlet,
    );
  }

  settle(outlet: string, number: number): void {
    this.#database.prepare(`
      INSERT INTO settled VALUES (?, ?)
      ON CONFLICT (outlet) DO UPDATE SET number = max(number, excluded.number)
    `).run(outlet, number);
  }

  /**
   * @param boot the computer's present start: what other starts left provisional cannot be placed any
   * more
   */
  forget(before: Micros, mostBytes: number, boot: string): void {
    for (const table of ["block", "sheet"]) {
      this.#database.prepare(`DELETE FROM ${table} WHERE boot NOT IN ('', ?)`).run(boot);
    }
    this.#forgetBefore(Math.floor(before / MINUTE));
    while (this.#bytes() > mostBytes) {
      const oldest = this.#number(
        "SELECT coalesce(min(hour), -1) AS number FROM block WHERE boot = ''",
      );
      if (oldest < 0) break;
      this.#forgetBefore((oldest + DAY / MINUTE / 60) * 60);
    }
    this.#database.exec("PRAGMA incremental_vacuum");
  }

  close(): void {
    this.#database.close();
  }

  #forgetBefore(minute: number): void {
    this.#transaction(() => {
      this.#database.prepare("DELETE FROM block WHERE boot = '' AND hour < ?").run(
        Math.floor(minute / 60),
      );
      this.#database.prepare("DELETE FROM sheet WHERE boot = '' AND minute < ?").run(minute);
    });
  }

  #bytes(): number {
    const pages = this.#number(
      "SELECT page_count - freelist_count AS number FROM pragma_page_count, pragma_freelist_count",
    );
    return pages * this.#number("SELECT page_size AS number FROM pragma_page_size");
  }

  #put(record: MinuteRecord, series: Series, boot: string): void {
    const hour = Math.floor(record.minute / 60);
    const row = this.#readBlock.get(boot, hour, series.id);
    const before = row?.minutes instanceof Uint8Array ? row.minutes : new Uint8Array();
    this.#writeBlock.run(boot, hour, series.id, withRecord(series, before, record));
  }

  /** Records of a range of series in the hour of a minute and the one before. */
  #recordsAround(minute: number, first: number, last: number): MinuteRecord[] {
    const hour = Math.floor(minute / 60);
    const rows = this.#database.prepare(`
      SELECT hour, series, minutes FROM block
      WHERE boot = '' AND hour BETWEEN ? AND ? AND series BETWEEN ? AND ? ORDER BY series, hour
    `).all(hour - 1, hour, first, last);
    return z.array(blockRow).parse(rows).flatMap(({ hour, series: id, minutes }) => {
      const series = this.#byId.get(id);
      return series === undefined ? [] : recordsOf(series, hour, minutes);
    });
  }

  /** The series of a record, made if new; a word that is new is added to its list. */
  #seriesOf(record: MinuteRecord): Series {
    const known = this.#series.get(record.name);
    const words = "word" in record ? JSON.stringify([record.word]) : null;
    if (known === undefined) {
      const { unit, decimals } = "word" in record ? { unit: "", decimals: 0 } : record;
      const row = this.#database
        .prepare("INSERT INTO series (name, unit, decimals, words) VALUES (?, ?, ?, ?) RETURNING *")
        .get(record.name, unit, decimals, words);
      return this.#know(seriesRow.parse(row));
    }
    if (!("word" in record) || known.words === null || known.words.includes(record.word)) {
      return known;
    }
    const more = { ...known, words: [...known.words, record.word] };
    this.#database.prepare("UPDATE series SET words = ? WHERE id = ?")
      .run(JSON.stringify(more.words), known.id);
    return this.#know(more);
  }

  #readSeries(): void {
    this.#series.clear();
    this.#byId.clear();
    for (const row of this.#database.prepare("SELECT * FROM series").all()) {
      this.#know(seriesRow.parse(row));
    }
  }

  #know(series: Series): Series {
    this.#series.set(series.name, series);
    this.#byId.set(series.id, series);
    return series;
  }

  #prepareTables(): void {
    const version = this.#number("SELECT user_version AS number FROM pragma_user_version");
    if (version > VERSION) throw new NewerHistory();
    if (version === VERSION) return;
    this.#transaction(() => {
      this.#database.exec(TABLES);
      this.#database.exec(`PRAGMA user_version = ${VERSION}`);
    });
  }

  #number(statement: string, ...values: string[]): number {
    return number.parse(this.#database.prepare(statement).get(...values)).number;
  }

  #transaction(body: () => void): void {
    try {
      transaction(this.#database, body);
    } catch (error) {
      // Series of the failed transaction are not there.
      this.#readSeries();
      throw error;
    }
  }
}

/** The last minute of a record's interval. */
function endOf({ minute, length }: MinuteRecord): number {
  return minute + length - 1;
}

export class NewerHistory extends Error {
  override readonly name = "NewerHistory";
}
