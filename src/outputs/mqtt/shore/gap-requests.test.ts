import { expect, test } from "vitest";
import { MINUTE, SECOND } from "../../../ground/time.ts";
import { GapRequests } from "./gap-requests.ts";

let ids = 0;
const newId = () => `r${++ids}`;

test("a gap is asked for once, then again after a while, longer each time", () => {
  const requests = new GapRequests();
  const gap = { from: 5, to: 9 };
  expect(requests.next(gap, 0, newId)).toMatchObject(gap);
  expect(requests.next(gap, 7 * SECOND, newId)).toBeUndefined();
  expect(requests.next(gap, 8 * SECOND, newId)).toMatchObject(gap);
  expect(requests.next(gap, 23 * SECOND, newId)).toBeUndefined();
  expect(requests.next(gap, 24 * SECOND, newId)).toMatchObject(gap);
  requests.hasten();
  expect(requests.next(gap, 25 * SECOND, newId)).toMatchObject(gap);
});

test("a gap that closes is forgotten, and a large one is asked for in parts", () => {
  const requests = new GapRequests();
  expect(requests.next({ from: 1, to: 2_000 }, 0, newId)).toMatchObject({ from: 1, to: 500 });
  expect(requests.next({ from: 300, to: 2_000 }, SECOND, newId)).toBeUndefined();
  expect(requests.next({ from: 501, to: 2_000 }, SECOND, newId)).toMatchObject({ to: 1_000 });
  expect(requests.next(null, SECOND, newId)).toBeUndefined();
  expect(requests.next({ from: 3_000, to: 3_000 }, MINUTE, newId)).toMatchObject({ from: 3_000 });
});

test("the boat's answer says what is gone for ever, to its own request only", () => {
  const requests = new GapRequests();
  const asked = requests.next({ from: 1, to: 50 }, 0, newId);
  expect(requests.goneBy("other", { accepted: true, from: 41 })).toBe(0);
  expect(requests.goneBy(asked?.id ?? "", { accepted: true, from: 1 })).toBe(0);
  expect(requests.goneBy(asked?.id ?? "", { accepted: false })).toBe(0);
  expect(requests.goneBy(asked?.id ?? "", { accepted: true, from: 41 })).toBe(40);
});
