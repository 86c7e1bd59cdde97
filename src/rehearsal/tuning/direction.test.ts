import { expect, test } from "vitest";
import { directionOf } from "./direction.ts";

/** One letter a value: M too much, L too little, W the same and worse, B both. */
function direction(text: string, isMostFirst = true, isLeast = false) {
  const tallies = [...text].map((letter) => ({
    alarms: 1,
    wrong: 1,
    missed: letter === "W" ? 2 : 1,
    tooMuch: "LW".includes(letter) ? 0 : 1,
    tooLittle: letter === "M" ? 0 : 1,
    delays: [],
  }));
  return directionOf(tallies, { isMostFirst, isLeast });
}

test("a good value may lie between one that tells too much and one that tells too little", () => {
  expect(direction("MMLL")).toEqual({ kind: "between", most: 1, least: 2 });
  expect(direction("LLMM", false)).toEqual({ kind: "between", most: 2, least: 1 });
});

test("where all tell too little, or all too much, it may lie beyond an end", () => {
  expect(direction("LLL")).toEqual({ kind: "beyond", tells: "too-little", end: 0 });
  expect(direction("MMM")).toEqual({ kind: "beyond", tells: "too-much", end: 2 });
  expect(direction("LLL", false)).toEqual({ kind: "beyond", tells: "too-little", end: 2 });
  expect(direction("MMM", false)).toEqual({ kind: "beyond", tells: "too-much", end: 0 });
});

test("nothing good lies beyond an end towards which it grows worse", () => {
  expect(direction("WLL")).toEqual({ kind: "none" });
  expect(direction("LLW")).toEqual({ kind: "beyond", tells: "too-little", end: 0 });
});

test("no delay is less than none", () => {
  expect(direction("LLL", true, true)).toEqual({ kind: "none" });
  expect(direction("MMM", true, true)).toEqual({ kind: "beyond", tells: "too-much", end: 2 });
});

test("another number does not help where both go together", () => {
  expect(direction("MBL")).toEqual({ kind: "none" });
  expect(direction("BBB")).toEqual({ kind: "none" });
  // More of a number that should tell less tells more: then it is not the number.
  expect(direction("LLMM")).toEqual({ kind: "none" });
});
