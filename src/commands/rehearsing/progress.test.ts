import { describe, expect, test } from "vitest";
import { SECOND } from "../../ground/time.ts";
import { Progress } from "./progress.ts";

const sized = (size: number) => ({ input: "", path: undefined, size, begins: NaN });

describe("the line while a rehearsal goes on", () => {
  test("shows how much is behind, and from then on how long the rest will take", () => {
    let now = 0;
    const progress = new Progress([sized(300), sized(100)], () => now);
    expect(progress.line(0)).toBe("░░░░░░░░░░░░░░░░░░░░░░░░ 0 % of 2 recordings");
    now = 1.9 * SECOND;
    expect(progress.line(1)).toBe("░░░░░░░░░░░░░░░░░░░░░░░░ 0 % of 2 recordings");
    now = 10 * SECOND;
    expect(progress.line(100)).toBe(
      "██████░░░░░░░░░░░░░░░░░░ 25 % of 2 recordings, about 30 s left",
    );
    now = 39.8 * SECOND;
    expect(progress.line(399)).toBe(
      "███████████████████████░ 99 % of 2 recordings, about 1 s left",
    );
    expect(progress.line(400)).toBe("████████████████████████ 100 % of 2 recordings");
  });

  test("says of a pipe only that it is followed", () => {
    expect(new Progress([sized(0)], () => 0).line(1000)).toBe("Following the recording");
  });
});
