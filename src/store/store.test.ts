import { afterEach, describe, expect, test } from "vitest";
import type { AlarmChange } from "../alarms/change.ts";
import { MemoryStore } from "./memory-store.ts";
import { type Store, StoreError } from "./store.ts";
import { openStore } from "./worker-store.ts";

/** One suite for every store. */
const folders: string[] = [];
const open: Store[] = [];

afterEach(async () => {
  for (const store of open.splice(0)) await store.close();
  for (const folder of folders.splice(0)) Deno.removeSync(folder, { recursive: true });
});

const kinds = [
  { name: "the store in memory", make: () => Promise.resolve(new MemoryStore("a1b2c3d4e5f60718")) },
  { name: "the store in a state folder", make: () => openStore(newFolder()) },
];

describe.each(kinds)("$name", ({ make }) => {
  test("numbers events from 1 and gives them back in order, a part at a time", async () => {
    const store = await opened(make());
    const { events } = store.commit({ changes: [change("a"), change("b")] });
    await store.commit({ changes: [change("c")] }).saved;
    expect(events.map(({ number }) => number)).toEqual([1, 2]);
    expect(store.lastNumber).toBe(3);
    expect(await store.eventsAfter(0, 2)).toEqual([
      { number: 1, change: change("a") },
      { number: 2, change: change("b") },
    ]);
    expect(await store.eventsAfter(2, 2)).toEqual([{ number: 3, change: change("c") }]);
    expect(await store.eventsAfter(3, 2)).toEqual([]);
  });

  test("gives back a change whole, with words, nulls and odd characters", async () => {
    const store = await opened(make());
    const odd: AlarmChange = {
      ...change("odd"),
      value: "in-fault",
      unit: "",
      setpoint: null,
      why: "„42 °C“\n\u0000 'quoted'",
    };
    await store.commit({ changes: [odd] }).saved;
    expect(await store.eventsAfter(0, 1)).toEqual([{ number: 1, change: odd }]);
  });

  test("keeps documents by kind and key, replaces them and removes them", async () => {
    const store = await opened(make());
    store.commit({
      documents: [
        { kind: "fact", key: "a", text: "1" },
        { kind: "fact", key: "b", text: "2" },
        { kind: "alarm-memory", key: "a", text: "3" },
      ],
    });
    const second = store.commit({
      documents: [{ kind: "fact", key: "a", text: "4" }, { kind: "fact", key: "b", text: null }],
    });
    await second.saved;
    expect(await store.documents("fact")).toEqual(new Map([["a", "4"]]));
    expect(await store.documents("alarm-memory")).toEqual(new Map([["a", "3"]]));
    expect(await store.documents("accepted-rules")).toEqual(new Map());
  });

  test("an outlet's mark is the highest event that is settled there", async () => {
    const store = await opened(make());
    await store.commit({ changes: [change("a"), change("b"), change("c")] }).saved;
    expect(await store.mark("mqtt", "first")).toBe(0);
    await store.commit({ settled: [settled("mqtt", 2)] }).saved;
    await store.commit({ settled: [settled("mqtt", 1)] }).saved;
    expect(await store.mark("mqtt", "first")).toBe(2);
    expect(await store.mark("other", "first")).toBe(0);
  });

  test("lets go of events that were settled long ago, and that nobody else owes", async () => {
    const store = await opened(make());
    await store.commit({ changes: ["a", "b", "c", "d", "e"].map(change) }).saved;
    await store.commit({ settled: [settled("ashore", 2)] }).saved;
    await store.commit({ settled: [{ ...settled("ashore", 4), time: LATER }] }).saved;
    await store.commit({ settled: [settled("phone", 1)] }).saved;
    const numbers = async () => (await store.eventsAfter(0, 9)).map(({ number }) => number);

    await store.forgetSettled("ashore", LATER - 1);
    expect(await numbers()).toEqual([2, 3, 4, 5]);
    await store.commit({ settled: [settled("phone", 5)] }).saved;
    await store.forgetSettled("ashore", LATER);
    expect(await numbers()).toEqual([5]);
    await store.commit({ settled: [{ ...settled("ashore", 5), time: LATER }] }).saved;
    await store.forgetSettled("ashore", LATER + 1);
    expect(await numbers()).toEqual([5]);
    expect(await store.mark("ashore", "first")).toBe(5);
    expect(store.commit({ changes: [change("f")] }).events[0].number).toBe(6);
  });

  test("an outlet that begins at the last event owes only what comes after", async () => {
    const store = await opened(make());
    await store.commit({ changes: [change("a"), change("b")] }).saved;
    expect(await store.mark("phone", "last")).toBe(2);
    await store.commit({ changes: [change("c")] }).saved;
    expect(await store.mark("phone", "last")).toBe(2);
  });

  test("has an epoch of 16 hexadecimal digits", async () => {
    expect((await opened(make())).epoch).toMatch(/^[0-9a-f]{16}$/);
  });
});

describe("a state folder", () => {
  test("remembers everything when it is opened again", async () => {
    const folder = newFolder();
    const first = await openStore(folder);
    first.commit({
      changes: [change("a")],
      documents: [{ kind: "alarm-memory", key: "a/boat", text: "{}" }],
      settled: [settled("mqtt", 1)],
    });
    await first.close();
    const second = await opened(openStore(folder));
    expect(second.epoch).toBe(first.epoch);
    expect(second.lastNumber).toBe(1);
    expect(await second.documents("alarm-memory")).toEqual(new Map([["a/boat", "{}"]]));
    expect(await second.mark("mqtt", "first")).toBe(1);
    expect(second.commit({ changes: [change("b")] }).events[0].number).toBe(2);
  });

  test("each has an epoch of its own", async () => {
    const first = await opened(openStore(newFolder()));
    const second = await opened(openStore(newFolder()));
    expect(first.epoch).not.toBe(second.epoch);
  });

  test("that cannot be written is refused with a sentence", async () => {
    const folder = newFolder();
    Deno.writeTextFileSync(`${folder}/file`, "");
    await expect(openStore(`${folder}/file`)).rejects.toThrow(StoreError);
    await expect(openStore(`${folder}/file/deeper`)).rejects.toThrow(
      /^The state folder ".*deeper" cannot be written \(Not a directory.*--state\.$/,
    );
  });

  test("that another program uses is refused", async () => {
    const folder = newFolder();
    await opened(openStore(folder));
    await expect(openStore(folder)).rejects.toThrow("is in use by another Sternfast");
  });

  test("is nobody else's to read", async () => {
    const folder = `${newFolder()}/state`;
    await opened(openStore(folder));
    const modes = [folder, `${folder}/sternfast.db`, `${folder}/sternfast.db-wal`]
      .map((place) => (Deno.statSync(place).mode ?? 0) & 0o777);
    expect(modes).toEqual([0o700, 0o600, 0o600]);
  });

  test("whose file is no database is refused", async () => {
    const folder = newFolder();
    Deno.writeTextFileSync(`${folder}/sternfast.db`, "a shopping list, ".repeat(100));
    await expect(openStore(folder)).rejects.toThrow("is damaged (file is not a database)");
  });

  test("that was closed answers no more questions", async () => {
    const store = await openStore(newFolder());
    await store.close();
    await expect(store.documents("fact")).rejects.toThrow("The store is closed.");
  });
});

function change(tag: string): AlarmChange {
  return {
    tag,
    subject: "port",
    occurrence: 1,
    from: "normal",
    to: "unacknowledged",
    hold: "none",
    priority: "alarm",
    signal: "engine/port/oil-pressure",
    value: 75842,
    unit: "Pa",
    setpoint: 124106,
    time: 1_781_431_923_120_000,
    why: "11 psi is below the limit of 18 psi.",
    by: "",
  };
}

const LATER = 1_781_431_923_120_000 + 60_000_000;

function settled(outlet: string, number: number) {
  return { outlet, number, outcome: "accepted", time: 1_781_431_923_120_000 } as const;
}

async function opened(store: Promise<Store>): Promise<Store> {
  open.push(await store);
  return await store;
}

function newFolder(): string {
  const folder = Deno.makeTempDirSync({ prefix: "sternfast-store-" });
  folders.push(folder);
  return folder;
}
