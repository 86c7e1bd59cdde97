import { expect, test } from "vitest";
import { RetainedTopics } from "./retained-topics.ts";

const BASE = "sternfast/hazel-comfort/";

test("a topic is remembered once, over restarts, and forgotten once cleared", () => {
  const first = new RetainedTopics(BASE, new Map());
  first.add("engine/port/speed", { kind: "signal", unit: "1/min" });
  first.add("engine/port/speed", { kind: "signal", unit: "1/min" });
  first.add("alarm/over-speed/port", { kind: "alarm" });
  const documents = first.takeUnsaved();
  expect(documents).toHaveLength(2);
  expect(first.takeUnsaved()).toEqual([]);

  const kept = new Map(documents.map(({ key, text }) => [key, text ?? ""]));
  const second = new RetainedTopics(BASE, kept);
  expect([...second.ofKind("signal")]).toEqual([
    ["engine/port/speed", { kind: "signal", unit: "1/min" }],
  ]);
  second.remove(`${BASE}alarm/over-speed/port`);
  expect([...second.ofKind("alarm")]).toEqual([]);
  expect(second.takeUnsaved()).toEqual([
    { kind: "retained-topic", key: `${BASE}alarm/over-speed/port`, text: null },
  ]);
});

test("after the boat is renamed the old name's topics are known as foreign", () => {
  const kept = new Map([[`${BASE}link`, '{"kind":"link"}']]);
  const renamed = new RetainedTopics("sternfast/hazel-delight/", kept);
  expect(renamed.foreign()).toEqual([`${BASE}link`]);
  expect([...renamed.ofKind("link")]).toEqual([]);
});

test("a document that makes no sense is left out", () => {
  const kept = new Map([[`${BASE}a`, "{"], [`${BASE}b`, '{"kind":"song"}']]);
  expect(new RetainedTopics(BASE, kept).foreign()).toEqual([]);
  expect([...new RetainedTopics(BASE, kept).ofKind("signal")]).toEqual([]);
});
