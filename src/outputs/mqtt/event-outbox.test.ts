import { describe, expect, test } from "vitest";
import { highWater } from "../../../tests/support/high-water.ts";
import { MemoryStore } from "../../store/memory-store.ts";
import { EventOutbox } from "./event-outbox.ts";

const wall = () => 0;

function storeWith(count: number): MemoryStore {
  const store = new MemoryStore("00112233aabbccdd");
  store.commit({ changes: Array.from({ length: count }, () => highWater()) });
  return store;
}

test("events go in order, a window at a time, and then none is owed", async () => {
  const outbox = await EventOutbox.open(storeWith(40), { ashore: false });
  const sent: number[] = [];
  const send = ({ number }: { number: number }) => Promise.resolve(void sent.push(number));
  while (await outbox.sendSome(send, wall)) { /* until none is owed */ }
  expect(sent).toEqual(Array.from({ length: 40 }, (_, i) => i + 1));
  expect(outbox.mark).toBe(40);
});

test("a break settles nothing of its window, and it is sent again with the same numbers", async () => {
  const store = storeWith(3);
  const outbox = await EventOutbox.open(store, { ashore: false });
  const broken = ({ number }: { number: number }) =>
    number === 2 ? Promise.reject(new Error("Connection closed")) : Promise.resolve();
  await expect(outbox.sendSome(broken, wall)).rejects.toThrow("Connection closed");
  expect(await store.mark("mqtt", "first")).toBe(0);

  const again = await EventOutbox.open(store, { ashore: false });
  const sent: number[] = [];
  await again.sendSome(({ number }) => Promise.resolve(void sent.push(number)), wall);
  expect(sent).toEqual([1, 2, 3]);
  expect(await store.mark("mqtt", "first")).toBe(3);
});

describe("an event leaves the outbox", () => {
  const drain = async (outbox: EventOutbox) => {
    const sent: number[] = [];
    const send = ({ number }: { number: number }) => Promise.resolve(void sent.push(number));
    while (await outbox.sendSome(send, wall)) { /* until none is owed */ }
    return sent;
  };

  test("when a broker ashore has accepted it", async () => {
    const outbox = await EventOutbox.open(storeWith(20), { ashore: true });
    await drain(outbox);
    expect(outbox.ashore).toBe(20);
  });

  test("else only when somebody ashore says that he has it, over a restart too", async () => {
    const store = storeWith(20);
    const outbox = await EventOutbox.open(store, { ashore: false });
    await drain(outbox);
    expect(outbox.ashore).toBe(0);
    expect(outbox.received(7, 0)).toBe(true);
    expect(outbox.received(3, 0)).toBe(true);
    expect(outbox.received(21, 0)).toBe(false);
    expect((await EventOutbox.open(store, { ashore: false })).ashore).toBe(7);
  });

  test("and can be asked for again, after what is new", async () => {
    const store = storeWith(40);
    const outbox = await EventOutbox.open(store, { ashore: true });
    await drain(outbox);
    expect(await outbox.resend(3, 30)).toEqual({ from: 3, to: 30 });
    expect(await outbox.resend(39, 99)).toEqual({ from: 39, to: 40 });
    expect(await outbox.resend(41, 99)).toBeNull();
    store.commit({ changes: [highWater()] });
    const again = Array.from({ length: 28 }, (_, i) => i + 3);
    expect(await drain(outbox)).toEqual([41, ...again, 39, 40]);
    expect(await drain(outbox)).toEqual([]);
  });
});
