import { afterEach, describe, expect, test } from "vitest";
import { MINUTE } from "../ground/time.ts";
import { type History, SHEET_SIZE } from "./history.ts";
import { MemoryHistory } from "./memory-history.ts";
import type { MinuteRecord, NumberRecord } from "./minute-record.ts";
import type { Store } from "./store.ts";
import { openStore } from "./worker-store.ts";

/** One suite for every history. */
const folders: string[] = [];
const stores: Store[] = [];

afterEach(async () => {
  for (const store of stores.splice(0)) await store.close();
  for (const folder of folders.splice(0)) Deno.removeSync(folder, { recursive: true });
});

/** 2026-06-14T10:00Z, counted in minutes. */
const TEN = 1_781_431_200 / 60;

const kinds = [
  { name: "the history in memory", make: () => Promise.resolve<History>(new MemoryHistory()) },
  { name: "the history in a state folder", make: async () => (await inFolder()).history },
];

describe.each(kinds)("$name", ({ make }) => {
  test("gives back what was kept, in order of time, over the hour", async () => {
    const history = await make();
    const kept = [0, 1, 2, 61].map((minute) => voltage(TEN + minute, 12 + minute / 100));
    for (const record of kept) await history.add([record, mode(record.minute, "float")], false);
    expect(await history.records("battery/house/voltage", TEN, TEN + 61)).toEqual(kept);
    expect(await history.records("battery/house/voltage", TEN + 1, TEN + 2)).toEqual(
      kept.slice(1, 3),
    );
    expect(await history.records("charger/shore/operating-state", TEN, TEN)).toEqual([
      mode(TEN, "float"),
    ]);
    expect(await history.records("nobody/heard", TEN, TEN)).toEqual([]);
  });

  test("numbers sheets in the order of their making, and gives their records back", async () => {
    const history = await make();
    await history.add([voltage(TEN, 12), mode(TEN, "bulk")], false);
    await history.add([voltage(TEN + 1, 13)], false);
    expect(history.lastSheet).toBe(2);
    expect(await history.sheetsAfter(0, 9)).toEqual([
      { number: 1, records: [voltage(TEN, 12), mode(TEN, "bulk")] },
      { number: 2, records: [voltage(TEN + 1, 13)] },
    ]);
    expect(await history.sheetsAfter(1, 9)).toHaveLength(1);
    expect(await history.sheetsAfter(0, 1)).toHaveLength(1);
  });

  test("makes several sheets of many signals, none of them too large", async () => {
    const history = await make();
    const many = Array.from({ length: 2 * SHEET_SIZE + 1 }, (_, i) => ({
      ...voltage(TEN, 12),
      name: `battery/${i}/voltage`,
    }));
    await history.add(many, false);
    const sheets = await history.sheetsAfter(0, 9);
    expect(sheets.map(({ records }) => records.length)).toEqual([SHEET_SIZE, SHEET_SIZE, 1]);
    expect(sheets.flatMap(({ records }) => records)).toEqual(many);
  });

  test("keeps a coarse record on the sheet of the minute in which it ended", async () => {
    const history = await make();
    const coarse = { ...voltage(TEN, 12), name: "tank/fuel-port/level", length: 5 };
    await history.add([voltage(TEN + 4, 13), coarse], false);
    expect((await history.sheetsAfter(0, 9))[0].records).toEqual([
      voltage(TEN + 4, 13),
      coarse,
    ]);
  });

  test("a record that comes again takes the place of the first", async () => {
    const history = await make();
    await history.add([voltage(TEN, 12)], false);
    await history.add([voltage(TEN, 14)], false);
    expect(await history.records("battery/house/voltage", TEN, TEN)).toEqual([voltage(TEN, 14)]);
  });

  test("provisional minutes wait, and are moved to their true places once", async () => {
    const history = await make();
    await history.add([voltage(TEN, 12)], false);
    await history.add(
      [voltage(7, 13), { ...voltage(5, 20), name: "tank/a/level", length: 5 }],
      true,
    );
    await history.add([voltage(8, 14)], true);
    expect(await history.sheetsAfter(0, 9)).toHaveLength(1);
    expect(await history.records("battery/house/voltage", 0, 100)).toEqual([]);
    await history.restamp(TEN + 50);
    await history.add([voltage(TEN + 59, 15)], false);
    expect(await history.records("battery/house/voltage", TEN, TEN + 99)).toEqual([
      voltage(TEN, 12),
      voltage(TEN + 57, 13),
      voltage(TEN + 58, 14),
      voltage(TEN + 59, 15),
    ]);
    const sheets = await history.sheetsAfter(0, 9);
    expect(sheets.flatMap(({ records }) => records)).toHaveLength(5);
    await history.restamp(1000);
    expect(await history.sheetsAfter(0, 9)).toEqual(sheets);
  });

  test("lets the oldest go by age, keeps the numbers, and what outlets have", async () => {
    const history = await make();
    for (let i = 0; i < 4; i++) await history.add([voltage(TEN + 60 * i, 12)], false);
    await history.settle("mqtt", 3);
    await history.settle("mqtt", 2);
    await history.forget((TEN + 120) * MINUTE, Infinity);
    expect((await history.sheetsAfter(0, 9)).map(({ number }) => number)).toEqual([3, 4]);
    expect(await history.records("battery/house/voltage", TEN, TEN + 999)).toHaveLength(2);
    await history.forget((TEN + 999) * MINUTE, Infinity);
    await history.add([voltage(TEN + 999, 12)], false);
    expect(history.lastSheet).toBe(5);
    expect(await history.mark("mqtt")).toBe(3);
    expect(await history.mark("ashore")).toBe(0);
  });

  test("lets the oldest days go when it grows too large", async () => {
    const history = await make();
    const signals = Array.from({ length: 40 }, (_, i) => `battery/${i}/voltage`);
    for (let hour = 0; hour < 96; hour++) {
      const records = signals.flatMap((name) =>
        Array.from({ length: 6 }, (_, i) => ({ ...voltage(TEN + 60 * hour + 10 * i, 12), name }))
      );
      await history.add(records, false);
    }
    await history.forget(0, 150_000);
    const left = await history.records("battery/7/voltage", TEN, TEN + 96 * 60);
    expect(left.length).toBeGreaterThan(0);
    expect(left.length).toBeLessThan(96 * 6);
    expect(left.at(-1)?.minute).toBe(TEN + 95 * 60 + 50);
  });
});

test("a history in a folder is there again after a restart", async () => {
  const folder = newFolder();
  const first = await openStore(folder);
  await first.history.add([voltage(TEN, 12), mode(TEN, "bulk")], false);
  await first.history.settle("mqtt", 1);
  await first.close();
  const second = await openStore(folder);
  stores.push(second);
  expect(second.history.lastSheet).toBe(1);
  expect(await second.history.mark("mqtt")).toBe(1);
  await second.history.add([mode(TEN + 1, "float")], false);
  expect(await second.history.records("charger/shore/operating-state", TEN, TEN + 1)).toEqual([
    mode(TEN, "bulk"),
    mode(TEN + 1, "float"),
  ]);
});

function voltage(minute: number, value: number): NumberRecord {
  return {
    name: "battery/house/voltage",
    unit: "V",
    decimals: 2,
    minute,
    length: 1,
    count: 40,
    min: value,
    mean: value + 0.00125,
    max: value + 0.01,
  };
}

function mode(minute: number, word: string): MinuteRecord {
  return { name: "charger/shore/operating-state", minute, length: 1, count: 3, word };
}

async function inFolder(): Promise<Store> {
  const store = await openStore(newFolder());
  stores.push(store);
  return store;
}

function newFolder(): string {
  const folder = Deno.makeTempDirSync({ prefix: "sternfast-history-" });
  folders.push(folder);
  return folder;
}
