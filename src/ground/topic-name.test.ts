import fc from "fast-check";
import { expect, test } from "vitest";
import { TOPIC_NAME, topicNameFrom } from "./topic-name.ts";

test("a topic name is made of any name that has letters or digits", () => {
  expect(topicNameFrom("Port Engine")).toBe("port-engine");
  expect(topicNameFrom("  Élan (2) ")).toBe("elan-2");
  expect(topicNameFrom("°")).toBeUndefined();
});

test("what is made of a text is always a topic name", () => {
  fc.assert(fc.property(fc.string({ unit: "grapheme" }), (text) => {
    const name = topicNameFrom(text);
    if (name !== undefined) expect(name).toMatch(TOPIC_NAME);
  }));
});
