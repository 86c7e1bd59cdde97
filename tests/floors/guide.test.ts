import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

const root = fileURLToPath(new URL("../..", import.meta.url));

test("every path that DEVELOPERS.md and README.md name exists", async () => {
  for (const page of ["DEVELOPERS.md", "README.md"]) {
    const text = await Deno.readTextFile(`${root}/${page}`);
    const paths = [...text.matchAll(/`((?:src|tests|rules|deploy|examples|\.ci)\/[^`\s*]*)`/g)]
      .map((found) => found[1]);
    expect(paths.length).toBeGreaterThan(page === "DEVELOPERS.md" ? 10 : 0);
    const missing: string[] = [];
    for (const path of paths) {
      await Deno.stat(`${root}/${path}`).catch(() => missing.push(path));
    }
    expect(missing).toEqual([]);
  }
});
