import { expect, test } from "vitest";
import { CommitQueue } from "./commit-queue.ts";
import { StoreError } from "./store.ts";
import type { Work } from "./work.ts";

/** A disk whose answers the test gives, one transaction at a time. */
class SlowDisk {
  readonly transactions: Work[] = [];
  readonly #answers: PromiseWithResolvers<void>[] = [];

  save = (work: Work): Promise<void> => {
    this.transactions.push(work);
    const answer = Promise.withResolvers<void>();
    this.#answers.push(answer);
    return answer.promise;
  };
  succeed = () => this.#answers.shift()?.resolve();
  fail = () => this.#answers.shift()?.reject(new Error("database or disk is full"));
}

function queueOn(disk: SlowDisk, limit = 100) {
  const troubles: (string | null)[] = [];
  const pauses: number[] = [];
  const queue = new CommitQueue({
    save: disk.save,
    pause: (attempt) => Promise.resolve(void pauses.push(attempt)),
    onTrouble: (trouble) => troubles.push(trouble),
    limit,
  });
  return { queue, troubles, pauses };
}

const event = (number: number): Work => ({
  events: [{ number, text: "{}" }],
  documents: [{ kind: "fact", key: "last", text: String(number) }],
  settled: [],
});

/** Lets every promise that can settle do so. */
const settle = () => new Promise((resolve) => setTimeout(resolve));

test("turns that come while the disk is busy go together in the next transaction", async () => {
  const disk = new SlowDisk();
  const { queue } = queueOn(disk);
  const all = [1, 2, 3].map((number) => queue.add(event(number)));
  expect(disk.transactions).toEqual([event(1)]);
  disk.succeed();
  await all[0];
  await settle();
  expect(disk.transactions[1]).toEqual({
    events: [{ number: 2, text: "{}" }, { number: 3, text: "{}" }],
    documents: [{ kind: "fact", key: "last", text: "3" }],
    settled: [],
  });
  disk.succeed();
  await Promise.all(all);
});

test("a failed transaction is tried again before anything newer, and the trouble is told", async () => {
  const disk = new SlowDisk();
  const { queue, troubles, pauses } = queueOn(disk);
  const first = queue.add(event(1));
  const second = queue.add(event(2));
  disk.fail();
  await settle();
  disk.fail();
  await settle();
  disk.succeed();
  await first;
  await settle();
  disk.succeed();
  await second;
  expect(disk.transactions.map(({ events }) => events[0].number)).toEqual([1, 1, 1, 2]);
  expect(pauses).toEqual([1, 2]);
  expect(troubles.at(0)).toContain("database or disk is full");
  expect(troubles.at(-1)).toBeNull();
});

test("a turn is saved only once its own transaction is", async () => {
  const disk = new SlowDisk();
  const { queue } = queueOn(disk);
  let saved = false;
  queue.add(event(1)).then(() => saved = true);
  await settle();
  expect(saved).toBe(false);
  disk.succeed();
  await settle();
  expect(saved).toBe(true);
});

test("when full it refuses the newest turn and keeps the others", async () => {
  const disk = new SlowDisk();
  const { queue } = queueOn(disk, 2);
  const kept = [1, 2, 3].map((number) => queue.add(event(number)));
  await expect(queue.add(event(4))).rejects.toThrow(StoreError);
  disk.succeed();
  await settle();
  disk.succeed();
  await Promise.all(kept);
  expect(disk.transactions.flatMap(({ events }) => events.map(({ number }) => number)))
    .toEqual([1, 2, 3]);
});

test("closing gives a failing disk one more try and then says what was not saved", async () => {
  const disk = new SlowDisk();
  const { queue } = queueOn(disk);
  const lost = queue.add(event(1));
  lost.catch(() => {});
  const closed = queue.close();
  disk.fail();
  await settle();
  disk.fail();
  await closed;
  await expect(lost).rejects.toThrow("cannot be written now");
  expect(disk.transactions).toHaveLength(2);
});

test("work that comes the moment the queue runs dry is not forgotten", async () => {
  const disk = new SlowDisk();
  const { queue } = queueOn(disk);
  const first = queue.add(event(1));
  const second = first.then(() => queue.add(event(2)));
  disk.succeed();
  await first;
  await settle();
  disk.succeed();
  await second;
  expect(disk.transactions).toHaveLength(2);
});
