import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { MINUTE, SECOND } from "../ground/time.ts";
import {
  CONDITION_WORDS,
  conditionCode,
  Phase,
  phaseAfter,
  presumedStoppedAt,
  speedsOf,
} from "./engine-condition.ts";

/** The words that an engine goes through at these speeds, from the first speed heard. */
function wordsAt(speeds: readonly number[], from: Phase = Phase.presumedStopped): string[] {
  let phase = from;
  return speeds.map((speed) => {
    phase = phaseAfter(phase, speed);
    return CONDITION_WORDS.get(conditionCode(phase)) ?? "";
  });
}

describe("engine condition", () => {
  test("a start goes from stopped through cranking and idling to running", () => {
    expect(wordsAt([0, 49, 50, 220, 499, 500, 700, 999, 1000, 1800])).toEqual([
      "stopped",
      "stopped",
      "cranking",
      "cranking",
      "cranking",
      "idling",
      "idling",
      "idling",
      "running",
      "running",
    ]);
  });

  test("running ends 50 below where it began", () => {
    expect(wordsAt([1000, 951, 950, 949, 960])).toEqual([
      "running",
      "running",
      "running",
      "idling",
      "idling",
    ]);
  });

  test("a dip below 500 of an engine that ran is still idling, and no starter at work", () => {
    expect(wordsAt([700, 450, 300, 450])).toEqual(["idling", "idling", "idling", "idling"]);
  });

  test("an engine that runs down is stopped below 300 and does not crank on its last turns", () => {
    expect(wordsAt([700, 299, 310, 120, 49, 120])).toEqual([
      "idling",
      "stopped",
      "stopped",
      "stopped",
      "stopped",
      "cranking",
    ]);
  });

  test("an engine caught again while it runs down idles", () => {
    expect(wordsAt([700, 280, 520])).toEqual(["idling", "stopped", "idling"]);
  });

  test("the first speed heard decides alone", () => {
    expect(wordsAt([3000])).toEqual(["running"]);
    expect(wordsAt([650])).toEqual(["idling"]);
    expect(wordsAt([220])).toEqual(["cranking"]);
  });
});

describe("an engine whose speed is no longer good", () => {
  test("below 1,200 it is presumed stopped three seconds after its last good speed", () => {
    expect(presumedStoppedAt(650, 10 * SECOND, 11 * SECOND)).toBe(13 * SECOND);
  });

  test("the presumption never lies before the speed became bad", () => {
    expect(presumedStoppedAt(650, 10 * SECOND, 15 * SECOND)).toBe(15 * SECOND);
  });

  test("from 1,200 up it is bad for a minute first", () => {
    expect(presumedStoppedAt(1200, 10 * SECOND, 11 * SECOND)).toBe(11 * SECOND + MINUTE);
  });
});

test("the speeds of a phase are those that keep it", () => {
  const phases = fc.constantFrom(...Object.values(Phase));
  fc.assert(fc.property(phases, fc.double({ min: 0, max: 4000, noNaN: true }), (phase, speed) => {
    const [from, below] = speedsOf(phase);
    expect(phaseAfter(phase, speed) === phase).toBe(speed >= from && speed < below);
  }));
});
