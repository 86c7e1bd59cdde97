import { expect, test } from "vitest";
import { ROOT, sternfast } from "../support/sternfast.ts";

// Half an hour on two cores.
test("rules/README.md shows what the sea trials of the shipped packs print, line by line", async () => {
  const folder = `${ROOT}/examples/sea-trials`;
  const { code, out } = await sternfast(["rehearse", "--trials", "trials.yaml"], { folder });
  expect(code).toBe(0);
  const readme = await Deno.readTextFile(`${ROOT}/rules/README.md`);
  expect(readme).toContain(out.trim());
});
