import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { stringify } from "yaml";
import { z } from "zod";
import { readSettings } from "../../src/commands/settings/settings.ts";
import { settingsSchema } from "../../src/commands/settings/settings-schema.ts";
import { isFault, sayProblems } from "../../src/ground/problem-words.ts";
import { expectGolden } from "../support/golden.ts";
import { casesIn } from "../support/golden-cases.ts";

const FOLDER = fileURLToPath(new URL("settings/", import.meta.url));

function read(path: string) {
  const text = readFileSync(`${FOLDER}${path}.yaml`, "utf8");
  return readSettings("sternfast.yaml", "/home/robin/boat", text);
}

describe("sound settings become what the commands need", () => {
  test.each(casesIn(`${FOLDER}sound`))("%s", (name) => {
    const { settings, problems } = read(`sound/${name}`);
    expect(problems.filter(isFault)).toEqual([]);
    expectGolden(`${FOLDER}sound/${name}.json`, `${JSON.stringify(settings, null, 2)}\n`);
  });
});

describe("faulty settings are explained", () => {
  test.each(casesIn(`${FOLDER}faulty`))("%s", (name) => {
    const { settings, problems } = read(`faulty/${name}`);
    expect(settings).toBeUndefined();
    const words = sayProblems(problems, "nothing was changed");
    expect(words).not.toContain("correct-horse");
    expectGolden(`${FOLDER}faulty/${name}.txt`, `${words}\n`);
  });
});

describe("the settings", () => {
  test("have a JSON Schema", () => {
    const schema = z.toJSONSchema(settingsSchema("/"), { io: "input" });
    expectGolden(`${FOLDER}schema.json`, `${JSON.stringify(schema, null, 2)}\n`);
  });

  test("are read without a fault of the program, whatever the YAML", { timeout: 60_000 }, () => {
    const names = fc.constantFrom(
      ...Object.keys(settingsSchema("/").shape),
      "broker",
      "reach",
      "post",
      "headers",
      "file",
    );
    const texts = fc.constantFrom("mqtt://a", "1 s", "yes", "alarm", "127.0.0.1:80", "embedded");
    const leaf = fc.oneof(texts, fc.integer(), fc.boolean(), fc.constant(null), fc.string());
    const { whole } = fc.letrec<{ whole: unknown; group: unknown; list: unknown }>((tie) => ({
      whole: fc.oneof({ depthSize: "small" }, leaf, tie("list"), tie("group")),
      list: fc.array(tie("whole"), { maxLength: 3 }),
      group: fc.dictionary(fc.oneof(names, fc.string()), tie("whole"), { maxKeys: 5 }),
    }));
    fc.assert(fc.property(whole, (value) => {
      const { settings, problems } = readSettings("sternfast.yaml", "/", stringify(value));
      expect(settings === undefined).toBe(problems.some(isFault));
    }));
  });

  test("are read without a fault of the program, whatever the text", () => {
    fc.assert(fc.property(fc.string({ unit: "grapheme" }), (text) => {
      const { settings, problems } = readSettings("sternfast.yaml", "/", text);
      expect(settings === undefined).toBe(problems.some(isFault));
    }));
  });
});
