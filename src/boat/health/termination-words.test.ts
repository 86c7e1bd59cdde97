import { describe, expect, test } from "vitest";
import { terminationWords } from "./termination-words.ts";

describe("what to do about a bus with errors", () => {
  test.each([
    ["error frames", { errorFrames: 10, lostMessages: 0, busOff: false }, /^Frames are destroyed/],
    ["holes", { errorFrames: 0, lostMessages: 3, busOff: false }, /^Messages arrive with holes/],
    [
      "silence",
      { errorFrames: 0, lostMessages: 0, busOff: true },
      /^The adapter has fallen silent/,
    ],
  ])("%s: power off, and measure", (_, faults, beginning) => {
    const words = terminationWords(faults);
    expect(words).toMatch(beginning);
    expect(words).toContain("60 Ω is right, 120 one terminator missing, 40 one too many");
  });

  test("nothing, where there are none", () => {
    expect(terminationWords({ errorFrames: 0.1, lostMessages: 0.2, busOff: false }))
      .toBeUndefined();
  });
});
