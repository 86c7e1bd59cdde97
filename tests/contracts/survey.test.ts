import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { z } from "zod";
import { readBoatFile } from "../../src/boat/boat-file.ts";
import { survey } from "../../src/commands/survey.ts";
import { surveyReportSchema } from "../../src/survey/report-schema.ts";
import { EXAMPLE_FOLDER, EXAMPLE_RECORDINGS } from "../support/example-recordings.ts";
import { expectGolden } from "../support/golden.ts";
import { inside } from "../support/inside.ts";
import { ROOT } from "../support/sternfast.ts";

const FOLDER = fileURLToPath(new URL("survey/", import.meta.url));
const EXAMPLE = `${ROOT}/${EXAMPLE_FOLDER}`;

/** Situations 1, 5 and 12. */
const SCENARIOS = ["two-gateways-one-instance", "sender-fitted-later", "failing-backbone"];

const INPUTS = [
  ...Object.keys(EXAMPLE_RECORDINGS).map((name) => [name, `recordings/${name}.log.gz`, EXAMPLE]),
  ...SCENARIOS.map((name) => [name, `simulator:${name}`, ROOT]),
];

describe("a survey", () => {
  test.each(INPUTS)("of %s is worth printing", async (name, input, folder) => {
    const { code, out } = await inside(survey, [input], folder);
    expect(code).toBe(0);
    expect(out).toMatch(/^Bus survey\n/);
    expect(out).toMatch(/not a marine survey\.\n$/);
    for (const line of out.split("\n")) expect(line.length, line).toBeLessThanOrEqual(100);
    expectGolden(`${FOLDER}${name}.txt`, out);
  });

  test.each(INPUTS)("of %s is data for a program", async (name, input, folder) => {
    const { code, out } = await inside(survey, [input, "--json"], folder);
    expect(code).toBe(0);
    expect(surveyReportSchema.parse(JSON.parse(out)).input).toBe(input);
    expectGolden(`${FOLDER}${name}.json`, out);
  });

  test.each(INPUTS)("of %s drafts a boat file that is right as it is, and filled in", async (
    _name,
    input,
    folder,
  ) => {
    const { out } = await inside(survey, [input, "--json"], folder);
    const { draft } = surveyReportSchema.parse(JSON.parse(out));
    expect(readBoatFile("draft.yaml", draft).problems).toEqual([]);
    const filledIn = draft.replaceAll(/^# ?(?=\s*[a-z0-9-]+: )|^#(?= +[a-z0-9-]+: )/gm, "")
      .replaceAll(/^# (?=[a-z-]+:$)/gm, "");
    expect(filledIn).not.toBe(draft);
    expect(readBoatFile("draft.yaml", filledIn).problems).toEqual([]);
  });

  test("has a JSON Schema", () => {
    const schema = z.toJSONSchema(surveyReportSchema);
    expectGolden(`${FOLDER}schema.json`, `${JSON.stringify(schema, null, 2)}\n`);
  });
});
