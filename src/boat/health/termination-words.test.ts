import { describe, expect, test } from "vitest";
import { type BusFaults, terminationWords } from "./termination-words.ts";

const QUIET: BusFaults = {
  errorFrames: 0,
  lostMessages: 0,
  busOff: false,
  onlyErrors: false,
  overflows: 0,
};

describe("what to do about a bus with errors", () => {
  test.each([
    ["error frames", { errorFrames: 10 }, /^Frames are destroyed/],
    ["holes", { lostMessages: 3 }, /^Messages arrive with holes/],
    ["silence", { busOff: true }, /^The adapter has fallen silent/],
    ["nothing but errors", { onlyErrors: true, busOff: true }, /^Not one whole frame.*bit rate/],
  ])("%s: power off, and measure", (_, faults, beginning) => {
    const words = terminationWords({ ...QUIET, ...faults });
    expect(words).toMatch(beginning);
    expect(words).toContain("60 Ω is right, 120 one terminator missing, 40 one too many");
  });

  test("nothing, where there are none", () => {
    expect(terminationWords({ ...QUIET, errorFrames: 0.1, lostMessages: 0.2 })).toBeUndefined();
  });

  test("no wire is measured where the adapter was too slow, whatever is missing for it", () => {
    const words = terminationWords({ ...QUIET, overflows: 5, lostMessages: 5 });
    expect(words).toContain("too slow");
    expect(words).not.toContain("measure");
  });
});
