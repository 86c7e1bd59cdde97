import { vi } from "vitest";
import type { MinuteRecord } from "../../src/store/minute-record.ts";
import type { AlarmEvent } from "../../src/store/store.ts";
import { openStore } from "../../src/store/worker-store.ts";
import type { Reader } from "./mosquitto.ts";

/** What lies in a state folder that no program has open: of one boat, aboard or ashore. */
export interface Kept {
  readonly events: readonly AlarmEvent[];
  /** Of one signal. */
  readonly minutes: readonly MinuteRecord[];
}

export async function keptIn(
  folder: string,
  signal: string,
  from: number,
  to: number,
): Promise<Kept> {
  const store = await openStore(folder);
  const events = await store.eventsAfter(0, 1_000_000);
  const minutes = await store.history.records(signal, from, to);
  await store.close();
  return { events, minutes };
}

/** How far a boat has come. */
export interface LastNumbers {
  readonly event: number;
  readonly sheet: number;
}

export async function lastNumbersIn(folder: string): Promise<LastNumbers> {
  const store = await openStore(folder);
  await store.close();
  return { event: store.lastNumber, sheet: store.history.lastSheet };
}

/** Waits until the shore has said that so much is safe. */
export async function untilReceived(
  reader: Reader,
  base: string,
  last: LastNumbers,
): Promise<void> {
  await vi.waitUntil(() => {
    const receipts = reader.on(`${base}command/received`);
    const { number, history } = JSON.parse(receipts.at(-1)?.payload ?? "{}");
    return number === last.event && history === last.sheet;
  }, { timeout: 60_000, interval: 20 });
}
