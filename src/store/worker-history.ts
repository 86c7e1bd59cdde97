import type { Micros } from "../ground/time.ts";
import type { History, Sheet } from "./history.ts";
import type { MinuteRecord } from "./minute-record.ts";
import type { StoreThread } from "./store-thread.ts";

/** The history of a state folder, behind the same thread as everything else that lies there. */
export class WorkerHistory implements History {
  /** Provisional minutes of another start of the program are counted from another zero. */
  readonly #boot = crypto.randomUUID();

  constructor(readonly thread: StoreThread, public lastSheet: number) {}

  async add(records: readonly MinuteRecord[], provisional: boolean): Promise<void> {
    const request = { kind: "add-minutes", records, boot: provisional ? this.#boot : "" } as const;
    this.lastSheet = (await this.thread.ask(request, "sheet-number")).number;
  }

  async restamp(minutes: number): Promise<void> {
    await this.thread.ask({ kind: "restamp", boot: this.#boot, minutes }, "done");
  }

  async sheetsAfter(after: number, limit: number): Promise<readonly Sheet[]> {
    const request = { kind: "sheets", after, limit, boot: this.#boot } as const;
    return (await this.thread.ask(request, "sheets")).sheets;
  }

  async records(name: string, from: number, to: number): Promise<readonly MinuteRecord[]> {
    return (await this.thread.ask({ kind: "records", name, from, to }, "records")).records;
  }

  async mark(outlet: string): Promise<number> {
    return (await this.thread.ask({ kind: "sheet-mark", outlet }, "sheet-number")).number;
  }

  async settle(outlet: string, number: number): Promise<void> {
    await this.thread.ask({ kind: "settle-sheets", outlet, number }, "done");
  }

  async forget(before: Micros, mostBytes: number): Promise<void> {
    const request = { kind: "forget-minutes", before, mostBytes, boot: this.#boot } as const;
    await this.thread.ask(request, "done");
  }
}
