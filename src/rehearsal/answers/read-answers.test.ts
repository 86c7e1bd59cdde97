import { describe, expect, test } from "vitest";
import { HOUR, parseIsoTime } from "../../ground/time.ts";
import { sayProblems } from "../../ground/problem-words.ts";
import { readAnswers } from "./read-answers.ts";

const AT = "at: 2026-06-14T10:01:20Z";
const TIME = parseIsoTime("2026-06-14T10:01:20Z");
const TAGS = ["high-water", "oil-pressure-low"];

const read = (...answers: string[]) =>
  readAnswers("answers.yaml", ["answers:", ...answers.map((one) => `  - ${one}`)].join("\n"), TAGS);
const problemsOf = (...answers: string[]) =>
  sayProblems(read(...answers).problems, "nothing was rehearsed");

describe("a file of answers", () => {
  test("is acknowledged by somebody, about the boat, where nothing else is said", () => {
    expect(read(`{ ${AT}, alarm: high-water }`).value).toEqual([{
      at: TIME,
      answer: { kind: "acknowledge", tag: "high-water", subject: "boat", who: "somebody" },
    }]);
  });

  test("takes whatever a person can do about an alarm", () => {
    const about = "alarm: high-water, subject: aft, who: Ellen";
    const { value } = read(
      `{ ${AT}, ${about}, answer: have-it }`,
      `{ ${AT}, ${about}, answer: shelve, length: 2 h, why: The float hangs. }`,
      `{ ${AT}, ${about}, answer: unshelve }`,
      `{ ${AT}, ${about}, answer: reset }`,
      `{ ${AT}, ${about}, answer: out-of-service, length: 1 h }`,
      `{ ${AT}, ${about}, answer: return-to-service }`,
    );
    const aft = { tag: "high-water", subject: "aft", who: "Ellen" };
    expect(value?.map((one) => "answer" in one ? one.answer : one)).toEqual([
      { ...aft, kind: "acknowledge", why: "I have it" },
      { ...aft, kind: "shelve", length: 2 * HOUR, why: "The float hangs." },
      { ...aft, kind: "unshelve" },
      { ...aft, kind: "reset" },
      { ...aft, kind: "out-of-service", length: HOUR },
      { ...aft, kind: "return-to-service" },
    ]);
  });

  test("is about things that are called by a number, and about rules that are not watched", () => {
    const { value } = read(
      `{ ${AT}, alarm: high-water, subject: 0 }`,
      `{ ${AT}, alarm: oil-pressure-low, subject: high-water--aft }`,
    );
    expect(value).toMatchObject([
      { answer: { subject: "0" } },
      { answer: { subject: "high-water--aft" } },
    ]);
  });

  test("says where a tag, an answer or a key is misspelled, and what was meant", () => {
    const words = problemsOf(
      `{ ${AT}, alarm: hihg-water }`,
      `{ ${AT}, alarm: high-water, hwo: Ellen }`,
      `{ ${AT}, alarm: high-water, answer: shelv }`,
    );
    expect(words).toContain('answers.yaml:3:52: found "hwo", which an answer does not know');
    expect(words).toContain('did you mean "who"?');
    expect(words).toContain('answers.yaml:4:60: found "shelv"');
    expect(words).toContain('did you mean "shelve"?');
    expect(problemsOf(`{ ${AT}, alarm: hihg-water }`)).toContain(
      'answers.yaml:2:40: found "hihg-water", which this set of rules does not know; did you mean ' +
        '"high-water"?',
    );
  });

  test("takes who is aboard, and says which condition was meant", () => {
    const text = (word: string) => `conditions:\n  - { ${AT}, condition: ${word}, who: Ellen }\n`;
    expect(readAnswers("answers.yaml", text("left"), TAGS).value).toEqual([
      { at: TIME, saying: "left" },
    ]);
    const words = sayProblems(readAnswers("answers.yaml", text("abord"), TAGS).problems, "");
    expect(words).toContain('answers.yaml:2:44: found "abord"');
    expect(words).toContain('did you mean "aboard"?');
    const key = "conditions:\n  - { at: 2026-06-14T10:01:20Z, conditoin: left }\n";
    expect(sayProblems(readAnswers("answers.yaml", key, TAGS).problems, "")).toContain(
      'found "conditoin", which a condition of the boat does not know; did you mean "condition"?',
    );
  });

  test("says what lacks a length, and what has one that means nothing", () => {
    expect(problemsOf(`{ ${AT}, alarm: high-water, answer: shelve }`)).toMatch(
      /^answers\.yaml:2:5: the answer shelve needs "length", which is not there/,
    );
    expect(problemsOf(`{ ${AT}, alarm: high-water, length: 2 h }`)).toContain(
      "answers.yaml:2:52: the answer acknowledge has a length, which says nothing there",
    );
  });
});
