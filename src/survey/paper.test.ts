import { expect, test } from "vitest";
import { PAPER_WIDTH, table } from "./paper.ts";

test("columns stand under each other, and a short row ends where it ends", () => {
  expect(table([["", "value"], ["speed", "700 rpm"], ["oil-pressure"]])).toEqual([
    "                value",
    "  speed         700 rpm",
    "  oil-pressure",
  ]);
});

test("a name too long for the paper stands on a line of its own, and nothing is cut off", () => {
  const rest = ["0 min".padEnd(20, "."), "0.67 a second".padEnd(20, "."), "not available"];
  const long = "charger/charger-instance-0/equalisation-time-remaining";
  const lines = table([["battery/0/voltage", ...rest], [long, ...rest]]);
  expect(lines).toEqual([
    `  ${["battery/0/voltage".padEnd(39), ...rest].join("  ")}`,
    `  ${long}`,
    `  ${["".padEnd(39), ...rest].join("  ")}`,
  ]);
  for (const line of lines) expect(line.length).toBeLessThanOrEqual(PAPER_WIDTH);
});

test("what is too long in another column is cut off", () => {
  const [line] = table([["maker 33", "ff ".repeat(40)]]);
  expect(line).toHaveLength(PAPER_WIDTH);
  expect(line.endsWith("…")).toBe(true);
});
