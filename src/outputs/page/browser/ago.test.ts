import { expect, test } from "vitest";
import { clockTime, lengthInWords, noWordSince, shortLength, timeInWords } from "./ago.js";

const SECOND = 1000;
const MINUTE = 60 * SECOND;
const HOUR = 60 * MINUTE;
const NOW = Date.UTC(2026, 5, 14, 13, 37, 40);

test.each([
  [0, "0 s"],
  [89_999, "89 s"],
  [90 * SECOND, "1 min"],
  [89 * MINUTE, "89 min"],
  [90 * MINUTE, "1 h"],
  [36 * HOUR, "1 d"],
  [-5 * SECOND, "0 s"],
])("%d ms is %s", (length, words) => expect(shortLength(length)).toBe(words));

test("within a sentence the unit is a word", () => {
  expect(lengthInWords(SECOND)).toBe("1 second");
  expect(lengthInWords(6 * MINUTE)).toBe("6 minutes");
});

test("what was heard a moment ago is from now", () => {
  expect(timeInWords(NOW - 1999, NOW, "ago")).toBe("now");
  expect(timeInWords(NOW - 2000, NOW, "ago")).toBe("2 s ago");
  expect(timeInWords(NOW - 5000, NOW, "for")).toBe("for 5 s");
});

test("a time of day is the owner's, with the date where it is not of these hours", () => {
  expect(clockTime(NOW, NOW, "Europe/London")).toBe("14:37:40");
  expect(clockTime(NOW - 13 * HOUR, NOW, "Europe/London")).toBe("14 June, 01:37:40");
});

test("a page that hears nothing says since when and what that means", () => {
  expect(noWordSince(NOW - 6 * MINUTE, NOW, "Europe/London")).toBe(
    "No word from the boat since 14:31:40, 6 minutes ago. " +
      "Everything below is from then, not from now.",
  );
});
