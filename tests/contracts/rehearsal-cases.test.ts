import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { z } from "zod";
import { rehearse } from "../../src/commands/rehearse.ts";
import { sayProblems } from "../../src/ground/problem-words.ts";
import { caseFileSchema } from "../../src/rehearsal/cases/case-schema.ts";
import { readCase } from "../../src/rehearsal/cases/read-case.ts";
import { EXAMPLE_FOLDER } from "../support/example-recordings.ts";
import { expectGolden } from "../support/golden.ts";
import { casesIn } from "../support/golden-cases.ts";
import { boatWith, KNOWN } from "../support/hand-made-boat.ts";
import { inside } from "../support/inside.ts";
import { ROOT } from "../support/sternfast.ts";

const FOLDER = fileURLToPath(new URL("rehearsal-cases/", import.meta.url));
const EXAMPLE = `${ROOT}/${EXAMPLE_FOLDER}`;

describe("a faulty case is explained", () => {
  test.each(casesIn(`${FOLDER}faulty`))("%s", (name) => {
    const text = readFileSync(`${FOLDER}faulty/${name}.yaml`, "utf8");
    const boat = boatWith([{ group: "engine", name: "port" }]);
    const known = { rules: null, boat, catalogue: KNOWN };
    const { value, problems } = readCase("leak.case.yaml", text, known);
    expect(value).toBeUndefined();
    expectGolden(`${FOLDER}faulty/${name}.txt`, `${sayProblems(problems, "nothing was rehearsed")}\n`);
  });
});

describe("a synthetic case is played", () => {
  test.each(readdirSync(`${FOLDER}cases`).filter((file) => file.endsWith(".yaml")))(
    "%s",
    async (file) => {
      const typed = [`${FOLDER}cases/${file}`];
      const { code, out, error } = await inside(rehearse, typed, EXAMPLE);
      expect(error).toBe("");
      const name = file.replace(/\.case\.yaml$/, "");
      expectGolden(`${FOLDER}cases/${name}.txt`, out.replaceAll(`${FOLDER}cases/`, ""));
      expect(code).toBe(["not-available", "bobs-before"].includes(name) ? 1 : 0);
    },
  );

  test("and has a JSON Schema", () => {
    const schema = z.toJSONSchema(caseFileSchema, { io: "input" });
    expectGolden(`${FOLDER}schema.json`, `${JSON.stringify(schema, null, 2)}\n`);
  });
});
