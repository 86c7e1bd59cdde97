import type { DatabaseSync } from "node:sqlite";

/** Does all of it or nothing. What went wrong is thrown on, after everything was undone. */
export function transaction(database: DatabaseSync, body: () => void): void {
  database.exec("BEGIN IMMEDIATE");
  try {
    body();
    database.exec("COMMIT");
  } catch (error) {
    // SQLite has already rolled back after some errors (a full disk): then this one says so.
    try {
      database.exec("ROLLBACK");
    } catch { /* the first error is the one to report */ }
    throw error;
  }
}
