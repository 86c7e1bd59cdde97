import type { Micros } from "../ground/time.ts";
import type { History, Sheet } from "./history.ts";
import { HistoryTables } from "./history-tables.ts";
import type { MinuteRecord } from "./minute-record.ts";

/** A history that lasts as long as the program: the same tables, without a file. */
export class MemoryHistory implements History {
  readonly #tables = new HistoryTables(":memory:");

  get lastSheet(): number {
    return this.#tables.lastSheet;
  }

  add(records: readonly MinuteRecord[], boot: string | null): Promise<void> {
    return Promise.resolve(this.#tables.add(records, boot ?? ""));
  }

  restamp(boot: string, minutes: number): Promise<void> {
    return Promise.resolve(this.#tables.restamp(boot, minutes));
  }

  sheetsAfter(after: number, limit: number, boot: string): Promise<readonly Sheet[]> {
    return Promise.resolve(this.#tables.sheetsAfter(after, limit, boot));
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

  forget(before: Micros, mostBytes: number, boot: string): Promise<void> {
    return Promise.resolve(this.#tables.forget(before, mostBytes, boot));
  }
}
