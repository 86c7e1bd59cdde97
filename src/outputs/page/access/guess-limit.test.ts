import { describe, expect, test } from "vitest";
import { MINUTE, SECOND } from "../../../ground/time.ts";
import { GuessLimit, MOST_FROM_ALL, MOST_FROM_ONE, REMEMBERED } from "./guess-limit.ts";

describe("the limit on guesses", () => {
  test("lets an address guess a few times, then makes it wait until the first is forgotten", () => {
    const limit = new GuessLimit();
    for (let i = 0; i < MOST_FROM_ONE; i++) expect(limit.admit("a", i * SECOND)).toBe(0);
    expect(limit.admit("a", MINUTE)).toBe(REMEMBERED - MINUTE);
    expect(limit.admit("a", REMEMBERED)).toBe(0);
    expect(limit.admit("a", REMEMBERED)).toBe(SECOND);
  });

  test("does not hold up another address", () => {
    const limit = new GuessLimit();
    for (let i = 0; i <= MOST_FROM_ONE; i++) limit.admit("a", 0);
    expect(limit.admit("b", 0)).toBe(0);
  });

  test("holds up everybody when many addresses guess together", () => {
    const limit = new GuessLimit();
    for (let i = 0; i < MOST_FROM_ALL; i++) expect(limit.admit(`address ${i}`, 0)).toBe(0);
    expect(limit.admit("another", 1)).toBeGreaterThan(0);
  });

  test("forgets the guess that was right, and no other", () => {
    const limit = new GuessLimit();
    for (let i = 1; i < MOST_FROM_ONE; i++) limit.admit("a", 0);
    for (let now = 1; now < 10; now++) {
      expect(limit.admit("a", now)).toBe(0);
      limit.wasRight("a", now);
    }
    limit.admit("a", 10);
    expect(limit.admit("a", 11)).toBeGreaterThan(0);
  });
});
