import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { firstSentence, headAndRest, oneLine } from "./message-head.ts";

/** Control characters, halves of pairs and all. */
const anyCharacter = fc.nat(0xffff).map((code) => String.fromCharCode(code));

const boat = "Hazel Comfort";

describe("a message for a way that shows a title", () => {
  test("is divided where the boat and the priority end", () => {
    const text = "Hazel Comfort, WARNING over at 14:36: low house voltage. It was back.";
    expect(headAndRest({ boat, text })).toEqual({
      head: "Hazel Comfort, WARNING over at 14:36",
      rest: "Low house voltage. It was back.",
    });
  });

  test.each([
    "All is well for 24 h: house 13.2 V.",
    `Hazel Comfort, ${"very ".repeat(20)}long: it is.`,
    "Hazel Comfort is well.",
  ])("is called by the boat where it has no such beginning: %s", (text) => {
    expect(headAndRest({ boat, text })).toEqual({ head: boat, rest: text });
  });

  test("has its first sentence for a subject, not its first full stop", () => {
    expect(firstSentence("Hazel Comfort: house 12.1 V, limit 12.2 V. Start a charger.")).toBe(
      "Hazel Comfort: house 12.1 V, limit 12.2 V.",
    );
  });
});

test("no control character gets into a title", { timeout: 60_000 }, () => {
  fc.assert(fc.property(fc.string({ unit: anyCharacter }), (text) => {
    expect(oneLine(text)).not.toMatch(/\p{Cc}/u);
    expect(headAndRest({ boat: text, text: `${text}: ${text}` }).head).not.toMatch(/\p{Cc}/u);
  }));
});
