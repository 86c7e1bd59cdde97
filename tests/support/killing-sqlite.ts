/**
 * Stands in for `node:sqlite` in a program under test (by an import map, so that the program itself
 * is not changed): the real one, which ends its own process, as a power cut would, at the write whose
 * number the environment names. Each commit is two: before it is made, and when it is made but nobody
 * has heard of it; so is a statement that is run by itself. What lies between the beginning of a
 * transaction and its commit is nothing on the disk.
 */
import { DatabaseSync, StatementSync } from "node:sqlite";
import { KILL_AT_WRITE } from "./killing-sqlite-name.ts";

export { DatabaseSync, StatementSync };

const last = Number(Deno.env.get(KILL_AT_WRITE));
let writes = 0;

function write(): void {
  writes += 1;
  if (writes === last) Deno.kill(Deno.pid, "SIGKILL");
}

let isOpen = false;

/** A change of the file, between two places to die. */
function writing<T>(change: () => T): T {
  write();
  const changed = change();
  write();
  return changed;
}

const { exec } = DatabaseSync.prototype;
DatabaseSync.prototype.exec = function (this: DatabaseSync, sql: string): void {
  if (sql.startsWith("BEGIN")) isOpen = true;
  if (sql === "COMMIT" || sql === "ROLLBACK") isOpen = false;
  if (sql === "COMMIT") writing(() => exec.call(this, sql));
  else exec.call(this, sql);
};

StatementSync.prototype.run = new Proxy(StatementSync.prototype.run, {
  apply(run, statement, values) {
    const change = () => Reflect.apply(run, statement, values);
    return isOpen ? change() : writing(change);
  },
});
