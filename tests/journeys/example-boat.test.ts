import { fileURLToPath } from "node:url";
import { gunzipSync } from "node:zlib";
import { describe, expect, test } from "vitest";
import { readRules } from "../../src/alarms/rules/read-rules.ts";
import { readBoatFile } from "../../src/boat/boat-file.ts";
import { KnownQuantities } from "../../src/boat/known-quantities.ts";
import { ALL_ROWS } from "../../src/nmea2000/rows/all.ts";
import {
  EXAMPLE_FOLDER,
  EXAMPLE_RECORDINGS,
  exampleRecording,
} from "../support/example-recordings.ts";

const folder = fileURLToPath(new URL(`../../${EXAMPLE_FOLDER}`, import.meta.url));

describe("the recordings of the example boat", () => {
  test.each(Object.keys(EXAMPLE_RECORDINGS))("%s is what the simulator makes", async (name) => {
    const packed = await Deno.readFile(`${folder}/recordings/${name}.log.gz`);
    const made = new TextDecoder().decode(exampleRecording(name));
    expect(gunzipSync(packed).toString()).toBe(made);
    expect(made).toMatch(/^(\(\d{10}\.\d{6}\) can0 [0-9A-F]{8}#([0-9A-F]{2}){0,8}\n)+$/);
  });

  test("are all that lie there, each with its expectations, and small", async () => {
    const found: string[] = [];
    let bytes = 0;
    for await (const { name } of Deno.readDir(`${folder}/recordings`)) {
      found.push(name);
      if (name.endsWith(".gz")) bytes += (await Deno.stat(`${folder}/recordings/${name}`)).size;
    }
    const expected = Object.keys(EXAMPLE_RECORDINGS)
      .flatMap((name) => [`${name}.expect.yaml`, `${name}.log.gz`]);
    expect(found.sort()).toEqual(expected.sort());
    expect(bytes).toBeLessThan(1_000_000);
  });
});

test("the example's boat file has no problem", async () => {
  const { boat, problems } = readBoatFile(
    "boat.yaml",
    await Deno.readTextFile(`${folder}/boat.yaml`),
  );
  expect(problems.filter((problem) => problem.kind !== "notice")).toEqual([]);
  expect(boat?.name).toBe("hazel-comfort");
});

test.each(["engines", "power", "bilges"])(
  "the example's %s rules have no problem",
  async (name) => {
    const file = `${folder}/rules/${name}.yaml`;
    const text = await Deno.readTextFile(file);
    const { value, problems } = readRules(file, text, new KnownQuantities(ALL_ROWS));
    expect(problems).toEqual([]);
    for (const rule of value?.rules ?? []) {
      expect(rule.consequence).not.toBe("");
      expect(rule.response.aboard).not.toBe("");
      expect(rule.response.ashore).not.toBe("");
    }
  },
);
