import { gunzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { EXAMPLE_FOLDER, EXAMPLE_RECORDINGS } from "../support/example-recordings.ts";
import { ROOT, sternfast } from "../support/sternfast.ts";

const FOLDER = `${ROOT}/${EXAMPLE_FOLDER}`;
const BOAT = ["--boat", `${FOLDER}/boat.yaml`, "--rules", `${FOLDER}/rules`];

describe.each(Object.keys(EXAMPLE_RECORDINGS))("the recording %s", (name) => {
  const recording = `${FOLDER}/recordings/${name}.log.gz`;
  const rehearsed = sternfast(["rehearse", recording, ...BOAT, "--json", "--answer", "never"]);

  test("gives the same bytes when it is run as when it is rehearsed and nobody answers", async () => {
    const run = await sternfast(["run", recording, ...BOAT, "--json"]);
    expect(run.out).toBe((await rehearsed).out);
    expect(run.out).not.toBe("");
    expect([run.code, (await rehearsed).code]).toEqual([0, 0]);
  });

  test("gives them also when it comes through a pipe", async () => {
    const input = gunzipSync(await Deno.readFile(recording));
    const piped = await sternfast(["run", "-", ...BOAT, "--json"], { input });
    expect(piped.out).toBe((await rehearsed).out);
    expect(piped.code).toBe(0);
  });

  test("is told to a person as sentences, with what it came to in the end", async () => {
    const { out, error, code } = await sternfast(["run", recording, ...BOAT]);
    const changes = (await rehearsed).out.trim().split("\n");
    expect(out.trim().split("\n").length).toBe(changes.length);
    expect(out).toMatch(/^2026-06-1\d \d\d:\d\d:\d\d UTC {2}(ALARM|WARNING): /);
    expect(error).toMatch(/ UTC · [\d,]+ frames · \d+ signals · 1 alarm/);
    expect(code).toBe(0);
  });
});
