import { expect, test } from "vitest";
import { highWater } from "../../tests/support/high-water.ts";
import type { Priority } from "../alarms/words.ts";
import { SECOND } from "../ground/time.ts";
import { lateEmergencies } from "./late-emergencies.ts";
import { StoreError } from "./store.ts";

const never = new Promise<void>(() => {});
const events = [event(1, "alarm"), event(2, "emergency-alarm")];

test("what is saved in time is not late", async () => {
  expect(await lateEmergencies({ events, saved: Promise.resolve() }, () => never)).toEqual([]);
});

test("after two seconds the emergencies are late, and nothing else is", async () => {
  const waited: number[] = [];
  const wait = (length: number) => Promise.resolve(void waited.push(length));
  expect(await lateEmergencies({ events, saved: never }, wait)).toEqual([events[1]]);
  expect(waited).toEqual([2 * SECOND]);
});

test("a turn without an emergency waits for nothing", async () => {
  expect(await lateEmergencies({ events: [events[0]], saved: never }, () => never)).toEqual([]);
});

test("a turn that the store refuses is late at once", async () => {
  const saved = Promise.reject(new StoreError("20000 events wait for the disk"));
  expect(await lateEmergencies({ events, saved }, () => never)).toEqual([events[1]]);
});

function event(number: number, priority: Priority) {
  return { number, change: highWater({ priority }) };
}
