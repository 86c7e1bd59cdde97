import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { stringify } from "yaml";
import { z } from "zod";
import type { Packs } from "../../src/alarms/rules/packs.ts";
import { readRules } from "../../src/alarms/rules/read-rules.ts";
import { EACH, ruleFileSchema, TESTS } from "../../src/alarms/rules/rule-schema.ts";
import { isFault, sayProblems } from "../../src/ground/problem-words.ts";
import { expectGolden } from "../support/golden.ts";
import { casesIn } from "../support/golden-cases.ts";
import { KNOWN } from "../support/hand-made-boat.ts";

const FOLDER = fileURLToPath(new URL("rules/", import.meta.url));
const OUTCOME = "nothing was changed";

const PACKS: Packs = {
  names: casesIn(`${FOLDER}packs`),
  find(name) {
    if (!this.names.includes(name)) return undefined;
    return { file: `${name}.yaml`, text: readFileSync(`${FOLDER}packs/${name}.yaml`, "utf8") };
  },
};

function read(path: string) {
  const text = readFileSync(`${FOLDER}${path}.yaml`, "utf8");
  return readRules("rules.yaml", text, KNOWN, PACKS);
}

describe("a sound rule file becomes the rules that it describes", () => {
  test.each(casesIn(`${FOLDER}sound`))("%s", (name) => {
    const { value, problems } = read(`sound/${name}`);
    expect(problems.filter(isFault)).toEqual([]);
    const notices = problems.length === 0 ? [] : sayProblems(problems, OUTCOME).split("\n");
    expectGolden(
      `${FOLDER}sound/${name}.json`,
      `${JSON.stringify({ ...value, notices }, null, 2)}\n`,
    );
  });
});

describe("a faulty rule file is explained", () => {
  test.each(casesIn(`${FOLDER}faulty`))("%s", (name) => {
    const { value, problems } = read(`faulty/${name}`);
    expect(value).toBeUndefined();
    expectGolden(`${FOLDER}faulty/${name}.txt`, `${sayProblems(problems, OUTCOME)}\n`);
  });
});

describe("a rule file", () => {
  test("has a JSON Schema", () => {
    const schema = z.toJSONSchema(ruleFileSchema, { io: "input" });
    expectGolden(`${FOLDER}schema.json`, `${JSON.stringify(schema, null, 2)}\n`);
  });

  test("is read without a fault of the program, whatever the text", () => {
    fc.assert(fc.property(fc.string({ unit: "grapheme" }), (text) => {
      const { value, problems } = readRules("rules.yaml", text, KNOWN);
      expect(value === undefined).toBe(problems.some(isFault));
      sayProblems(problems, OUTCOME);
    }));
  });

  test("is read without a fault of the program, whatever the rule", () => {
    const leaf = fc.oneof(
      fc.constantFrom("10 psi", "3 s", "5 %", "speed", "condition", "running", "on", "per", ""),
      fc.constantFrom("103 % of rated-speed", "12 V per 12 V", "12 V per 0 V", "% of nominal"),
      fc.integer(),
      fc.boolean(),
      fc.constant(null),
      fc.string(),
    );
    const keys = fc.constantFrom(
      ...["all", "any", "not", "signal", "of", "over", "under", "equals", "one-of", "held"],
      ...["setpoint", "deadband", "along", "lowest-of", "curve", "bits", "700 rpm", "while"],
      ...["against", "limit", "rise", "fall", "within", "starts-of", "at-least", "at-most", "from"],
    );
    const { part } = fc.letrec<{ part: unknown }>((tie) => ({
      part: fc.oneof(
        { depthSize: "small" },
        leaf,
        fc.array(tie("part"), { maxLength: 3 }),
        fc.dictionary(keys, tie("part"), { maxKeys: 4, noNullPrototype: true }),
      ),
    }));
    const rule = fc.record({
      tag: fc.constantFrom("a", "b", "B", "house-low"),
      title: fc.constant("A"),
      each: fc.constantFrom(...EACH),
      priority: fc.constantFrom("alarm", "caution"),
      kind: fc.constantFrom(...TESTS),
      test: part,
      condition: part,
    }).map(({ kind, test, condition, ...rest }) => ({
      ...rest,
      [kind]: test,
      "watch-while": condition,
    }));
    const use = fc.constantFrom([], ["batteries"], ["no-such-pack"], [5], "batteries");
    fc.assert(fc.property(use, fc.array(rule, { maxLength: 3 }), (use, alarms) => {
      const { value, problems } = readRules("rules.yaml", stringify({ use, alarms }), KNOWN, PACKS);
      expect(value === undefined).toBe(problems.some(isFault));
      sayProblems(problems, OUTCOME);
    }));
  });
});
