import { expect, test } from "vitest";
import { highWater } from "../../tests/support/high-water.ts";
import type { Priority } from "../alarms/words.ts";
import { SECOND } from "../ground/time.ts";
import { tellLate } from "./late-events.ts";
import { StoreError } from "./store.ts";

const alarm = event(1, "alarm");
const emergency = event(2, "emergency-alarm");

/** What is told of a turn, with the seconds that were waited for before. */
async function toldOf(saved: Promise<void>, events = [alarm, emergency]) {
  let waited = 0;
  const told: [number, ...number[]][] = [];
  const wait = (length: number) => Promise.resolve(void (waited += length / SECOND));
  await tellLate(
    { events, saved },
    wait,
    (late) => told.push([waited, ...late.map(({ number }) => number)]),
  );
  return told;
}

const never = new Promise<void>(() => {});

test("what is saved in time is not late", async () => {
  expect(await toldOf(Promise.resolve())).toEqual([]);
});

test("an emergency is late after two seconds, everything else after ten", async () => {
  expect(await toldOf(never)).toEqual([[2, 2], [10, 1]]);
  expect(await toldOf(never, [alarm])).toEqual([[10, 1]]);
});

test("a turn that the store refuses is late all the same", async () => {
  const refused = () => Promise.reject(new StoreError("20000 events wait for the disk"));
  expect((await toldOf(refused())).flatMap(([, ...numbers]) => numbers)).toEqual([2, 1]);
});

test("nothing waits any more once a turn is saved", async () => {
  const cuts: AbortSignal[] = [];
  const { promise, resolve } = Promise.withResolvers<void>();
  const wait = (_: number, cut: AbortSignal) => (cuts.push(cut), never);
  const telling = tellLate({ events: [alarm], saved: promise }, wait, () => {
    throw new Error("told of what is saved");
  });
  resolve();
  await telling;
  expect(cuts.map(({ aborted }) => aborted)).toEqual([true]);
});

function event(number: number, priority: Priority) {
  return { number, change: highWater({ priority }) };
}
