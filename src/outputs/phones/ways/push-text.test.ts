import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { pushPayloadSchema } from "../../../ground/push-payload.ts";
import type { PhoneMessage } from "../way.ts";
import { PUSH_TEXT_BYTES, pushText } from "./push-text.ts";

const message: PhoneMessage = {
  key: "k".repeat(32),
  person: "Ellen",
  boat: "Hazel Comfort",
  priority: "alarm",
  about: "raised",
  text: "",
  signal: "",
  answers: [{ action: "have-it", words: "I have it", address: "https://boat.example/answer/a" }],
  time: 0,
};

function read(text: string, more: Partial<PhoneMessage> = {}) {
  const written = pushText({ ...message, text, ...more });
  expect(new TextEncoder().encode(written).length).toBeLessThanOrEqual(PUSH_TEXT_BYTES);
  return pushPayloadSchema.parse(JSON.parse(written));
}

describe("the text of a push message", () => {
  test("is whole where it fits", () => {
    const { title, body, actions } = read(
      "Hazel Comfort, ALARM: port oil 11 psi. Bring it to idle.",
    );
    expect(title).toBe("Hazel Comfort, ALARM");
    expect(body).toBe("Port oil 11 psi. Bring it to idle.");
    expect(actions).toHaveLength(1);
  });

  test("ends at a sentence with a sign that there is more, as late as it can", () => {
    const sentence = "Look at the gauge of the port engine.";
    const { body } = read(`Hazel Comfort: ${`${sentence} `.repeat(200)}`);
    expect(body.endsWith(`${sentence} …`)).toBe(true);
    const room = PUSH_TEXT_BYTES - new TextEncoder().encode(pushText({ ...message, text: body }))
      .length;
    expect(room).toBeLessThan(2 * sentence.length + 20);
  });

  test("of one endless sentence ends at a word, and of one endless word somewhere", () => {
    expect(read("word ".repeat(2000)).body).toMatch(/ word …$/);
    expect(read("w".repeat(10_000)).body).toMatch(/^w+ …$/);
  });

  test("goes before buttons that leave no room for it", () => {
    const answers = [{
      ...message.answers[0],
      address: `https://boat.example/${"a".repeat(3_000)}`,
    }];
    const { body, actions } = read("Port oil 11 psi.", { answers });
    expect(body).toBe("Port oil 11 psi.");
    expect(actions).toEqual([]);
  });

  test("fits and can be read, whatever is said", { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 3_000 }), (text) => {
        const { body } = read(text);
        expect(text.endsWith(body) || body.endsWith("…")).toBe(true);
      }),
      { numRuns: 30 },
    );
  });
});
