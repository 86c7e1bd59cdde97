import { expect, test } from "vitest";
import { LatestStates } from "./latest-states.ts";
import { retained } from "./outgoing.ts";

const state = (topic: string, payload: string) => retained(topic, payload, 1);
const payloads = (states: LatestStates) => states.next(10).map(({ payload }) => payload);

test("only the latest state of a topic is owed", () => {
  const states = new LatestStates();
  states.set(state("a", "1"));
  states.set(state("b", "2"));
  states.set(state("a", "3"));
  expect(payloads(states)).toEqual(["3", "2"]);
  expect(states.next(1)).toHaveLength(1);
});

test("a state that is as it was is not owed again", () => {
  const states = new LatestStates();
  states.set(state("a", "1"));
  states.accepted(states.next(1)[0]);
  states.set(state("a", "1"));
  expect(payloads(states)).toEqual([]);
});

test("a state that changed on its way is still owed", () => {
  const states = new LatestStates();
  states.set(state("a", "1"));
  const [onItsWay] = states.next(1);
  states.set(state("a", "2"));
  expect(states.accepted(onItsWay)).toBe(false);
  expect(payloads(states)).toEqual(["2"]);
});

test("after a reconnect everything is owed, but nothing that was cleared", () => {
  const states = new LatestStates();
  states.set(state("a", "1"));
  states.set(state("b", ""));
  for (const message of states.next(10)) expect(states.accepted(message)).toBe(true);
  states.oweAll();
  expect(payloads(states)).toEqual(["1"]);
});

test("a topic that is said in another way now is left alone", () => {
  const states = new LatestStates();
  states.set(state("a", ""));
  const [clearing] = states.next(1);
  states.leave("a");
  expect(payloads(states)).toEqual([]);
  expect(states.accepted(clearing)).toBe(false);
});
