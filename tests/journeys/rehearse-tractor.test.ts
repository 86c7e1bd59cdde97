import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, expect, test } from "vitest";
import { rehearse } from "../../src/commands/rehearse.ts";
import { inside } from "../support/inside.ts";
import { needs, TRACTOR_DATA } from "../support/needs.ts";

const FILES = fileURLToPath(new URL("rehearse-tractor/", import.meta.url));
const NAMES = ["start1", "noStartInGear1", "highRPM1"];

let folder: string;

beforeEach(async () => {
  folder = await Deno.makeTempDir();
  for (const name of NAMES) {
    await Deno.copyFile(`${TRACTOR_DATA}/${name}.log.gz`, `${folder}/${name}.log.gz`);
    await Deno.copyFile(`${FILES}${name}.expect.yaml`, `${folder}/${name}.expect.yaml`);
  }
});
afterEach(() => Deno.remove(folder, { recursive: true }));

// Numbers as the README of the recordings says them: speed first above 500 rpm at 4.236 s, oil low
// until 6.107 s.
needs("tractor-data")("a diesel tractor's starts", () => {
  test("bring no alarm from a rule that waits for the oil to come up", async () => {
    const { code, out, error } = await inside(
      rehearse,
      [".", "--rules", `${FILES}patient.yaml`],
      folder,
    );
    expect(error).toBe("");
    expect(out).toContain("All 3 files of expectations hold.");
    expect(code).toBe(0);
  });

  test("are failed by a rule that does not wait, at the instants that the bus gives", async () => {
    const typed = ["start1.log.gz", "--rules", `${FILES}hasty.yaml`];
    const { code, out } = await inside(rehearse, typed, folder);
    expect(code).toBe(1);
    expect(out).toContain("0:00:04.236  alarm: raised");
    expect(out).toContain("0:00:06.107  alarm: over, not yet answered");
    expect(out).toContain("'Low oil pressure', can0-0, must never come, and came at 0:00:04.236.");
  });

  test("reach a mark at the instant of its message", async () => {
    await Deno.writeTextFile(
      `${folder}/start1.expect.yaml`,
      "marks: { fired: { signal: engine/can0-0/speed, first: over 500 rpm } }\n" +
        "expect:\n  - { alarm: oil-pressure-low, subject: can0-0, raised: [fired, fired], " +
        "returned: [0:00:06.107, 0:00:06.107] }\n",
    );
    const typed = ["start1.log.gz", "--rules", `${FILES}hasty.yaml`];
    const { code, out } = await inside(rehearse, typed, folder);
    expect(out).toContain("they hold; the one alarm came as it should.");
    expect(code).toBe(0);
  });
});
