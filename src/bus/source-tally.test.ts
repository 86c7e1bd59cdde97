import { expect, test } from "vitest";
import type { SourceEvent } from "./source-event.ts";
import { KEPT_PROBLEMS, SourceTally } from "./source-tally.ts";

test("lines that are no frames are all counted, the first kept, and told of when they are many", () => {
  const events: SourceEvent[] = [];
  const tally = new SourceTally((event) => events.push(event));
  for (let at = 1; at <= 5000; at++) {
    tally.malformed({ at, found: `line ${at}`, expected: "a frame" });
  }
  expect(tally.counts.malformed).toBe(5000);
  expect(tally.problems).toHaveLength(KEPT_PROBLEMS);
  expect(events).toEqual([10, 1000].map((count) => ({
    kind: "malformed",
    count,
    found: `line ${count}`,
    expected: "a frame",
  })));
});
