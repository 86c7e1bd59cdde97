import { describe, expect, test } from "vitest";
import type { Problem } from "./problem.ts";
import { sayProblem, sayProblems } from "./problem-words.ts";

const place = { file: "boat.yaml", line: 7, column: 1 };

const misspelled: Problem = {
  kind: "unknown-name",
  place,
  found: "batterys",
  owner: "a boat file",
  nearest: "batteries",
};

const unused: Problem = { kind: "notice", place, found: "plan", note: "not used by this version" };

describe("a problem in words", () => {
  test("says where, what was found, who does not know it and what was meant", () => {
    expect(sayProblem(misspelled)).toBe(
      'boat.yaml:7:1: found "batterys", which a boat file does not know; ' +
        'did you mean "batteries"?',
    );
  });

  test("is a sentence of its own for every kind", () => {
    const problems: Problem[] = [
      { kind: "wrong-value", place, found: "12 V", expected: "a speed, such as 6 kn" },
      { kind: "wrong-value", place, found: "a list", expected: "text" },
      { kind: "wrong-value", place, found: '"fule"', expected: "fuel", nearest: "fuel" },
      { kind: "missing", place, what: "instance", owner: "a battery" },
      { kind: "conflict", place, found: "port and starboard are one", remedy: "give a device" },
      unused,
    ];
    expect(problems.map((problem) => sayProblem(problem).slice("boat.yaml:7:1: ".length))).toEqual([
      'found "12 V"; expected a speed, such as 6 kn.',
      "found a list; expected text.",
      'found "fule"; expected fuel; did you mean "fuel"?',
      'a battery needs "instance", which is not there.',
      "port and starboard are one; give a device.",
      '"plan" is not used by this version.',
    ]);
  });
});

describe("several problems in words", () => {
  test("stand one a line, and the first says how many follow and what was done", () => {
    expect(sayProblems([unused, misspelled, misspelled], "nothing was changed")).toBe([
      'boat.yaml:7:1: found "batterys", which a boat file does not know; ' +
      'did you mean "batteries"? 1 more problem below; nothing was changed.',
      'boat.yaml:7:1: found "batterys", which a boat file does not know; ' +
      'did you mean "batteries"?',
      'boat.yaml:7:1: "plan" is not used by this version.',
    ].join("\n"));
  });

  test("that is one says so", () => {
    expect(sayProblems([misspelled], "nothing was changed")).toMatch(/\? Nothing was changed\.$/);
  });

  test("that are all notices refuse nothing", () => {
    expect(sayProblems([unused], "nothing was changed")).toBe(
      'boat.yaml:7:1: "plan" is not used by this version.',
    );
  });
});
