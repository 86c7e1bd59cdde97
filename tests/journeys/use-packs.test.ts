import { expect, test } from "vitest";
import { ownFolder } from "../support/own-folder.ts";
import { ROOT, sternfast } from "../support/sternfast.ts";

const RECORDING = `${ROOT}/examples/hazel-comfort/recordings/oil-pressure-falls.log.gz`;
const BOAT = `${ROOT}/examples/hazel-comfort/boat.yaml`;

test("a rule file uses a pack by its name, and changes one number of it", async () => {
  const pack = "use: [engine-diesel]\n";
  const folder = ownFolder({
    "pack.yaml": pack,
    "late.yaml": `${pack}alarms: [{ tag: oil-pressure-low, on-delay: 10 min }]\n`,
  });
  const run = (rules: string) =>
    sternfast(["run", RECORDING, "--boat", BOAT, "--rules", rules, "--json"], { folder });
  const tags = (out: string) => [...out.matchAll(/"tag":"([^"]+)"/g)].map(([, tag]) => tag);
  expect(tags((await run("pack.yaml")).out)).toContain("oil-pressure-low");
  expect(tags((await run("late.yaml")).out)).not.toContain("oil-pressure-low");
});

test("a pack that there is not is told with the nearest one", async () => {
  const folder = ownFolder({ "rules.yaml": "use: [engine-deisel]\n" });
  const { code, error } = await sternfast(["check", "rules.yaml"], { folder });
  expect(error).toContain('did you mean "engine-diesel"?');
  expect(code).toBe(1);
});
