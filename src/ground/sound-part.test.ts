import { describe, expect, test } from "vitest";
import { z } from "zod";
import { soundPart } from "./sound-part.ts";

const schema = z.strictObject({
  name: z.string().optional(),
  engines: z.record(z.string(), z.strictObject({ instance: z.number() })).optional(),
  people: z.array(z.string()).optional(),
});

describe("the sound part of a document", () => {
  test("lacks what the schema refuses and keeps the rest", () => {
    expect(soundPart(schema, {
      name: 7,
      boat: "unknown",
      engines: { port: { instance: 0 }, starboard: { instance: "one" }, wing: {} },
      people: ["Ada", 7],
    })).toEqual({ engines: { port: { instance: 0 } } });
  });

  test("is the whole of a sound document", () => {
    expect(soundPart(schema, { name: "hazel" })).toEqual({ name: "hazel" });
  });

  test("is nothing where no group is", () => {
    expect(soundPart(schema, "text")).toBeUndefined();
    expect(soundPart(schema, ["a"])).toBeUndefined();
  });

  test("leaves the document as it was", () => {
    const document = { name: 7 };
    soundPart(schema, document);
    expect(document).toEqual({ name: 7 });
  });
});
