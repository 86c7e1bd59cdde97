import { expect, test } from "vitest";
import { switchWord } from "./switch-word.ts";

test("on, yes and true are one, off, no and false the other", () => {
  expect(["on", "yes", true].map((word) => switchWord.parse(word))).toEqual([true, true, true]);
  expect(["off", "no", false].map((word) => switchWord.parse(word))).toEqual([false, false, false]);
  expect(switchWord.safeParse("maybe").success).toBe(false);
});
