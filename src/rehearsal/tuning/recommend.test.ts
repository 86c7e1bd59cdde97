import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { recommend } from "./recommend.ts";
import type { Tally } from "./tally.ts";

/** One letter a value: g good, w one false, m one missed, b both. */
function advice(text: string) {
  return recommend([...text].map((letter): Tally => ({
    alarms: 0,
    wrong: letter === "w" || letter === "b" ? 1 : 0,
    missed: letter === "m" || letter === "b" ? 1 : 0,
    tooMuch: 0,
    tooLittle: 0,
    delays: [],
  })));
}

describe("of the values tried", () => {
  test("the middle of the longest stretch of good ones is recommended", () => {
    expect(advice("wgwgggm")).toEqual({ kind: "middle", at: 4, from: 3, to: 5 });
  });

  test("the lower middle of an even stretch, and the first of two alike", () => {
    expect(advice("ggggm")).toEqual({ kind: "middle", at: 1, from: 0, to: 3 });
    expect(advice("wgggwgggm")).toEqual({ kind: "middle", at: 2, from: 1, to: 3 });
  });

  test("one good value, or two, are a narrow place without a middle", () => {
    expect(advice("wwgmm")).toEqual({ kind: "narrow", from: 2, to: 2 });
    expect(advice("wwggm")).toEqual({ kind: "narrow", from: 2, to: 3 });
  });

  test("none is recommended where none is good; the least bad is named", () => {
    expect(advice("bwm")).toEqual({ kind: "none", least: 1 });
  });

  test("what is recommended is always good, and no stretch is longer", () => {
    fc.assert(fc.property(fc.stringMatching(/^[gwmb]{1,40}$/), (text) => {
      const given = advice(text);
      const longest = Math.max(0, ...text.split(/[^g]+/).map(({ length }) => length));
      if (given.kind === "none") return longest === 0;
      const { from, to } = given;
      const isLongest = to - from + 1 === longest && !/[^g]/.test(text.slice(from, to + 1));
      return given.kind === "narrow"
        ? isLongest && longest <= 2
        : isLongest && from < given.at && given.at < to;
    }));
  });
});
