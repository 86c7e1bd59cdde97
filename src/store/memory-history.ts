import type { Micros } from "../ground/time.ts";
import type { History, Sheet } from "./history.ts";
import { HistoryTables } from "./history-tables.ts";
import type { MinuteRecord } from "./minute-record.ts";

/** It never outlives the one start of the program that it knows. */
const BOOT = "this";

/** A history that lasts as long as the program: the same tables, without a file. */
export class MemoryHistory implements History {
  readonly #tables = new HistoryTables(":memory:");

  get lastSheet(): number {
    return this.#tables.lastSheet;
  }

  add(records: readonly MinuteRecord[], provisional: boolean): Promise<void> {
    return Promise.resolve(this.#tables.add(records, provisional ? BOOT : ""));
  }

  restamp(minutes: number): Promise<void> {
    return Promise.resolve(this.#tables.restamp(BOOT, minutes));
  }

  sheetsAfter(after: number, limit: number): Promise<readonly Sheet[]> {
    return Promise.resolve(this.#tables.sheetsAfter(after, limit, BOOT));
  }

  records(name: string, from: number, to: number): Promise<readonly MinuteRecord[]> {
    return Promise.resolve(this.#tables.records(name, from, to));
  }

  mark(outlet: string): Promise<number> {
    return Promise.resolve(this.#tables.mark(outlet));
  }

  settle(outlet: string, number: number): Promise<void> {
    return Promise.resolve(this.#tables.settle(outlet, number));
  }

  forget(before: Micros, mostBytes: number): Promise<void> {
    return Promise.resolve(this.#tables.forget(before, mostBytes, BOOT));
  }
}
