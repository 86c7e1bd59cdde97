import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { MINUTE } from "../../ground/time.ts";
import { MemoryHistory } from "../../store/memory-history.ts";
import type { MinuteRecord, NumberRecord } from "../../store/minute-record.ts";
import { HistoryOutbox } from "./history-outbox.ts";
import { LARGEST_PACK, readHistoryPack } from "./history-payload.ts";

const BASE = "sternfast/hazel-comfort/";
const EPOCH = "00112233aabbccdd";
const FIRST = 29_690_520;

async function boat(minutes: number, signals = 3, ashore = false) {
  const history = new MemoryHistory();
  for (let i = 0; i < minutes; i++) {
    await history.add(Array.from({ length: signals }, (_, s) => voltage(s, FIRST + i)), false);
  }
  const parts = { history, base: BASE, epoch: EPOCH, ashore };
  return { history, outbox: await HistoryOutbox.open(parts) };
}

async function drain(outbox: HistoryOutbox, now: number, hurry = false) {
  const packs: string[] = [];
  const send = (pack: string) => Promise.resolve(void packs.push(pack));
  while (await outbox.sendSome(send, now, hurry)) { /* until none is ready */ }
  return packs.map((pack) => {
    expect(pack.length).toBeLessThanOrEqual(LARGEST_PACK);
    const read = readHistoryPack(pack, BASE, () => "V");
    if (read === undefined) throw new Error(`not a pack: ${pack}`);
    return read;
  });
}

const ranges = (packs: { from: number; to: number }[]) => packs.map(({ from, to }) => [from, to]);

describe("history goes out", () => {
  test("a quarter of an hour at a time, and what is less waits", async () => {
    const { outbox, history } = await boat(40);
    expect(ranges(await drain(outbox, 0))).toEqual([[1, 15], [16, 30]]);
    expect(outbox.mark).toBe(30);
    expect(await drain(outbox, 1)).toEqual([]);
    for (let i = 40; i < 45; i++) await history.add([voltage(0, FIRST + i)], false);
    expect(await drain(outbox, MINUTE - 1)).toEqual([]);
    expect(ranges(await drain(outbox, MINUTE))).toEqual([[31, 45]]);
  });

  test("after a quarter of an hour too where a bus that fell asleep fills no pack", async () => {
    const { outbox } = await boat(4);
    for (let minute = 0; minute < 15; minute++) {
      expect(await drain(outbox, minute * MINUTE)).toEqual([]);
    }
    expect(ranges(await drain(outbox, 15 * MINUTE))).toEqual([[1, 4]]);
  });

  test("all of it when the program stops", async () => {
    const { outbox } = await boat(17);
    expect(ranges(await drain(outbox, 0, true))).toEqual([[1, 15], [16, 17]]);
  });

  test("in packs of 64 kB at most, without a hole", async () => {
    const { outbox } = await boat(30, 400);
    const packs = await drain(outbox, 0, true);
    const numbers = packs.flatMap(({ from, to }) =>
      Array.from({ length: to - from + 1 }, (_, i) => from + i)
    );
    expect(numbers).toEqual(Array.from({ length: 90 }, (_, i) => i + 1));
    const keys = packs.flatMap(({ records }) =>
      records.map(({ name, minute }) => `${name} ${minute}`)
    );
    expect(new Set(keys).size).toBe(30 * 400);
    expect(keys).toHaveLength(30 * 400);
  });

  test("again after a break, and over a restart from where it was accepted", async () => {
    const { outbox, history } = await boat(30);
    const broken = () => Promise.reject(new Error("Connection closed"));
    await expect(outbox.sendSome(broken, 0, false)).rejects.toThrow("Connection closed");
    await outbox.sendSome(() => Promise.resolve(), 0, false);
    const parts = { history, base: BASE, epoch: EPOCH, ashore: false };
    const later = await HistoryOutbox.open(parts);
    expect(ranges(await drain(later, 0))).toEqual([[16, 30]]);
  });

  test("again where somebody misses it", async () => {
    const { outbox } = await boat(30);
    await drain(outbox, 0);
    expect(await outbox.resend(4, 20)).toEqual({ from: 4, to: 20 });
    expect(ranges(await drain(outbox, 0))).toEqual([[4, 18], [19, 20]]);
    expect(await outbox.resend(31, 40)).toBeNull();
  });

  test("and counts as ashore as the events do", async () => {
    const near = await boat(15);
    await drain(near.outbox, 0);
    expect(near.outbox.ashore).toBe(0);
    expect(await near.outbox.received(15)).toBe(true);
    expect(await near.outbox.received(16)).toBe(false);
    expect(await near.history.mark("ashore")).toBe(15);
    const far = await boat(15, 3, true);
    await drain(far.outbox, 0);
    expect(far.outbox.ashore).toBe(15);
  });
});

test("what was packed is read back", async () => {
  const history = new MemoryHistory();
  const records: MinuteRecord[] = [
    voltage(1, FIRST),
    {
      ...voltage(2, FIRST),
      name: "engine/port/speed",
      unit: "1/min",
      min: 700.25,
      mean: 701.1875,
      max: 702,
    },
    { ...voltage(3, FIRST - 4), length: 5 },
    {
      ...voltage(4, FIRST),
      name: "heading/rate-of-turn",
      unit: "deg/s",
      min: -3.5,
      mean: 0.125,
      max: 3.5,
    },
    { name: "charger/shore/operating-state", minute: FIRST, length: 1, count: 3, word: "float" },
  ];
  await history.add(records, false);
  const outbox = await HistoryOutbox.open({ history, base: BASE, epoch: EPOCH, ashore: false });
  let pack = "";
  await outbox.sendSome((text) => Promise.resolve(void (pack = text)), 0, true);
  const read = readHistoryPack(pack, BASE, (name) => name.endsWith("speed") ? "1/min" : "V");
  expect(read).toMatchObject({ epoch: EPOCH, from: 1, to: 1 });
  const byName = (one: { name: string }, other: { name: string }) => one.name < other.name ? -1 : 1;
  expect(read?.records.toSorted(byName)).toEqual(
    records.toSorted(byName).map((record) =>
      "word" in record ? record : { ...record, decimals: 4 }
    ),
  );
});

test("no text makes the reader fail, and none is taken for a pack by chance", () => {
  fc.assert(fc.property(fc.oneof(fc.string(), fc.json()), (text) => {
    expect(readHistoryPack(text, BASE, () => "V")).toBeUndefined();
  }));
});

function voltage(signal: number, minute: number): NumberRecord {
  return {
    name: `battery/number-${signal}/voltage`,
    unit: "V",
    decimals: 2,
    minute,
    length: 1,
    count: 40,
    min: 12.7,
    mean: 12.745,
    max: 12.78,
  };
}
