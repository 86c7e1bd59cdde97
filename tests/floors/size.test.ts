import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { sourceFiles } from "./import-graph.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));
const MOST_LINES = 400;
/** Pure tables are as long as what they list. */
const TABLES = /^src\/(nmea2000\/rows|simulator\/scenarios)\//;

test(`no file is longer than ${MOST_LINES} lines, pure tables apart`, async () => {
  const long: string[] = [];
  for (const folder of ["src", "tests"]) {
    for await (const file of sourceFiles(root, folder)) {
      const lines = (await Deno.readTextFile(`${root}/${file}`)).split("\n").length - 1;
      if (lines > MOST_LINES && !TABLES.test(file)) long.push(`${file}: ${lines}`);
    }
  }
  expect(long).toEqual([]);
});

test("the median file stays under 120 lines", async () => {
  const lengths: number[] = [];
  for await (const file of sourceFiles(root)) {
    lengths.push((await Deno.readTextFile(`${root}/${file}`)).split("\n").length - 1);
  }
  lengths.sort((a, b) => a - b);
  expect(lengths[lengths.length >> 1]).toBeLessThan(120);
});
