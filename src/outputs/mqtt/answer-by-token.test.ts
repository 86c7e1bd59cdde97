import { describe, expect, test } from "vitest";
import type { Answer } from "../../alarms/change.ts";
import { answerByToken, type TokenAnswer } from "./answer-by-token.ts";

const ANSWER: Answer = {
  kind: "acknowledge",
  tag: "low-oil",
  subject: "port",
  occurrence: 3,
  who: "Ellen",
};

function prove(token: string): TokenAnswer {
  return token === "right" ? { answer: ANSWER } : { problem: "This boat did not make that link." };
}

describe("a command that carries the token of a link", () => {
  test("says what the token says, whatever stands beside it", () => {
    const content = { token: "right", who: "Mallory", tag: "bilge-high", occurrence: 9 };
    expect(answerByToken("acknowledge", content, prove)).toEqual({ answer: ANSWER });
  });

  test("is refused where the boat did not make the token", () => {
    expect(answerByToken("acknowledge", { token: "wrong" }, prove)).toEqual({
      problem: "This boat did not make that link.",
    });
  });

  test("does only what its token is for", () => {
    expect(answerByToken("shelve", { token: "right" }, prove)).toEqual({
      problem: 'The token is for "acknowledge", not for "shelve".',
    });
  });

  test("is refused by a boat that makes no links", () => {
    expect(answerByToken("acknowledge", { token: "right" }, undefined)).toHaveProperty("problem");
  });

  test.each([{}, { token: 7 }, null, "right", []])("is another one without it: %j", (content) => {
    expect(answerByToken("acknowledge", content, prove)).toBeUndefined();
  });
});
