import { createHmac } from "node:crypto";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { HOUR, SECOND } from "../ground/time.ts";
import {
  ANSWER_ACTIONS,
  type AnswerClaims,
  answerOf,
  claimsIn,
  LONGEST_TOKEN,
  readAnswer,
  signAnswer,
} from "./answer-token.ts";

const KEY = new Uint8Array(32).fill(7);
const NOW = Date.UTC(2026, 5, 14, 14, 31) * 1000;
const CLAIMS: AnswerClaims = {
  boat: "hazel-comfort",
  tag: "oil-pressure-low-under-load",
  subject: "port",
  occurrence: 3,
  action: "have-it",
  person: "Björn",
  expires: NOW + HOUR,
};

const anyName = fc.string({ minLength: 1, maxLength: 100, unit: "grapheme" })
  .filter((text) => text.length <= 100 && text.isWellFormed());
const anyClaims = fc.record({
  boat: fc.constant("hazel-comfort"),
  tag: fc.constant("low"),
  subject: fc.constant("port"),
  occurrence: fc.integer({ min: 1, max: 1e6 }),
  action: fc.constantFrom(...ANSWER_ACTIONS),
  person: anyName.filter((text) => text.length <= 20),
  expires: fc.integer({ min: NOW, max: 2 * NOW }),
});

describe("the token of an answer", () => {
  test("gives back what was signed, whatever a person is called", () => {
    fc.assert(fc.property(anyClaims, (claims) => {
      expect(readAnswer(signAnswer(claims, KEY), KEY, NOW)).toEqual({ read: true, claims });
    }));
  });

  test("needs no escape in an address", () => {
    fc.assert(fc.property(anyClaims, (claims) => {
      const token = signAnswer(claims, KEY);
      expect(encodeURIComponent(token)).toBe(token);
    }));
  });

  test("holds until its last instant and not a second longer", () => {
    const token = signAnswer(CLAIMS, KEY);
    expect(readAnswer(token, KEY, CLAIMS.expires).read).toBe(true);
    expect(readAnswer(token, KEY, CLAIMS.expires + SECOND)).toMatchObject({ why: "expired" });
  });

  test("of another key is not ours", () => {
    const token = signAnswer(CLAIMS, new Uint8Array(32).fill(8));
    expect(readAnswer(token, KEY, NOW)).toMatchObject({ why: "not-ours" });
  });

  test("is not ours when any character of it is changed, left out or added", () => {
    const token = signAnswer(CLAIMS, KEY);
    const place = fc.nat({ max: token.length - 1 });
    fc.assert(
      fc.property(place, fc.string({ maxLength: 3 }), (at, put) => {
        const other = token.slice(0, at) + put + token.slice(at + 1);
        fc.pre(other !== token);
        expect(readAnswer(other, KEY, NOW)).toMatchObject({ read: false, why: "not-ours" });
      }),
      { numRuns: 1_000 },
    );
  });

  test("is never read from what is none", () => {
    fc.assert(fc.property(fc.string({ maxLength: 2 * LONGEST_TOKEN }), (text) => {
      expect(readAnswer(text, KEY, NOW).read).toBe(false);
    }));
  });

  test("says what it is about to those who cannot prove it", () => {
    expect(claimsIn(signAnswer(CLAIMS, KEY))).toEqual(CLAIMS);
    expect(claimsIn("")).toBeUndefined();
    expect(claimsIn(`${btoa("{}").replace("=", "")}.${"A".repeat(43)}`)).toBeUndefined();
  });

  test("ends with the HMAC of what stands before it", () => {
    const [body, mac] = signAnswer(CLAIMS, KEY).split(".");
    expect(mac).toBe(createHmac("sha256", KEY).update(body).digest("base64url"));
  });
});

describe("the answer of a token", () => {
  test("names the raising and the person", () => {
    expect(answerOf(CLAIMS)).toEqual({
      kind: "acknowledge",
      tag: "oil-pressure-low-under-load",
      subject: "port",
      occurrence: 3,
      who: "Björn",
      why: "I have it",
    });
  });

  test("shelves for an hour", () => {
    expect(answerOf({ ...CLAIMS, action: "shelve" })).toMatchObject({
      kind: "shelve",
      length: HOUR,
    });
  });
});
