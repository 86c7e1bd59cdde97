import { beforeEach, expect, test } from "vitest";
import { type Micros, MINUTE, SECOND } from "../../../ground/time.ts";
import { BoatHeard } from "./boat-heard.ts";
import type { Link } from "./read-messages.ts";

/** 2026-06-14T10:00Z; the steady clock stands elsewhere. */
const TEN: Micros = 1_781_431_200 * SECOND;
let passed: Micros;
let boat: BoatHeard;

beforeEach(() => {
  passed = 0;
  const clock = { steady: () => 7 * SECOND + passed, wall: () => TEN + passed };
  boat = new BoatHeard("hazel-comfort", clock, { name: "normal", occurrence: 0 });
});

const link = (parts: Partial<Link> = {}): Link => ({
  state: "connected",
  time: TEN + passed,
  interval: 5 * MINUTE,
  ...parts,
});

test("a boat that has not spoken for two of its own intervals is not heard", () => {
  boat.note(link({ interval: MINUTE }), false);
  passed = 2 * MINUTE;
  expect(boat.judge()).toBeUndefined();
  passed += 1;
  expect(boat.judge()).toMatchObject({
    tag: "boat-not-heard",
    subject: "hazel-comfort",
    occurrence: 1,
    from: "normal",
    to: "unacknowledged",
    priority: "alarm",
    why: "No word from the boat since 2026-06-14 10:00 UTC.",
  });
  expect(boat.judge()).toBeUndefined();
});

test("what lay on the broker was said at its own time", () => {
  boat.note(link({ time: TEN - 11 * MINUTE }), true);
  expect(boat.judge()).toMatchObject({ to: "unacknowledged" });
});

test("a boat that stopped properly is not waited for", () => {
  boat.note(link({ state: "stopped" }), false);
  passed = 60 * MINUTE;
  expect(boat.judge()).toBeUndefined();
});

test("a last will alone raises nothing: most boats are back in a minute", () => {
  boat.note(link(), false);
  passed = MINUTE;
  boat.note(link({ state: "lost", time: null }), false);
  expect(boat.judge()).toBeUndefined();
  passed = 10 * MINUTE + 1;
  expect(boat.judge()).toMatchObject({ to: "unacknowledged" });
});

test("heard again, it stays until it is answered; an answer fits its own raising only", () => {
  passed = 11 * MINUTE;
  boat.judge();
  expect(boat.answer(2, "Ellen")).toBeUndefined();
  boat.note(link(), false);
  expect(boat.judge()).toMatchObject({ to: "returned-unacknowledged", occurrence: 1 });
  expect(boat.answer(1, "Ellen")).toMatchObject({ to: "normal", by: "Ellen" });
  expect(boat.answer(1, "Ellen")).toBeUndefined();
});

test("lost again before it was answered, it is a new raising", () => {
  passed = 11 * MINUTE;
  boat.judge();
  boat.note(link(), false);
  boat.judge();
  passed += 11 * MINUTE;
  expect(boat.judge()).toMatchObject({
    from: "returned-unacknowledged",
    to: "unacknowledged",
    occurrence: 2,
  });
});

test("answered while it lasts, it is over when the boat is heard", () => {
  passed = 11 * MINUTE;
  boat.judge();
  expect(boat.answer(1, "Ellen")).toMatchObject({ to: "acknowledged" });
  boat.note(link(), false);
  expect(boat.judge()).toMatchObject({ from: "acknowledged", to: "normal" });
});
