import { DatabaseSync } from "node:sqlite";
import { afterEach, beforeEach, expect, test } from "vitest";
import { openProblem } from "./open-problem.ts";
import { StoreTables } from "./store-tables.ts";

let folder: string;

beforeEach(() => folder = Deno.makeTempDirSync({ prefix: "sternfast-tables-" }));
afterEach(() => Deno.removeSync(folder, { recursive: true }));

test("a transaction that fails half-way leaves nothing behind", () => {
  const tables = new StoreTables(`${folder}/s.db`, "0");
  tables.save({ events: [{ number: 1, text: "{}" }], documents: [], settled: [] });
  const work = {
    events: [{ number: 2, text: "{}" }, { number: 1, text: "a number that is taken" }],
    documents: [{ kind: "fact", key: "a", text: "1" }],
    settled: [],
  } as const;
  expect(() => tables.save(work)).toThrow("UNIQUE");
  expect(tables.eventsAfter(0, 10)).toEqual([{ number: 1, text: "{}" }]);
  expect(tables.documents("fact").size).toBe(0);
  tables.close();
});

test("every commit is on the disk before it returns", () => {
  const tables = new StoreTables(`${folder}/s.db`, "0");
  const { synchronous } = tables.settings();
  expect(synchronous).toBe(2); // FULL, SQLite documentation, "PRAGMA synchronous"
  expect(tables.settings().journalMode).toBe("wal");
  tables.close();
});

test("a folder of a newer version is refused, and left as it was", () => {
  const file = `${folder}/s.db`;
  const newer = new DatabaseSync(file);
  newer.exec("PRAGMA user_version = 99; CREATE TABLE identity (more TEXT)");
  newer.close();
  let refused: unknown;
  try {
    new StoreTables(file, "0");
  } catch (error) {
    refused = error;
  }
  expect(openProblem(folder, refused)).toContain("was written by a newer Sternfast");
  const after = new DatabaseSync(file);
  expect(after.prepare("SELECT name FROM sqlite_schema").all()).toHaveLength(1);
  after.close();
});
