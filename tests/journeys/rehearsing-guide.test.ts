import { expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { ROOT, sternfast } from "../support/sternfast.ts";

const EXAMPLE = `${ROOT}/examples/hazel-comfort`;
const GUIDE = await Deno.readTextFile(`${ROOT}/rules/rehearsing.md`);

test("the expectations and the case that the guide shows hold on the example boat", async () => {
  const shown = [...GUIDE.matchAll(/```yaml\n# (\S+)\n(.*?)```/gs)];
  expect(shown.map(([, name]) => name)).toEqual([
    "oil-pressure-falls.expect.yaml",
    "oil-lost.case.yaml",
  ]);
  const folder = ownFolder(Object.fromEntries(shown.map(([, name, text]) => [name, text])));
  const recording = "oil-pressure-falls.log.gz";
  await Deno.copyFile(`${EXAMPLE}/recordings/${recording}`, `${folder}/${recording}`);
  const typed = ["rehearse", ".", "--settings", `${EXAMPLE}/sternfast.yaml`];
  const { code, out, error } = await sternfast(typed, { folder });
  expect(error).toBe("");
  expect(out).toContain("All 2 files of expectations hold.");
  expect(code).toBe(0);
});
