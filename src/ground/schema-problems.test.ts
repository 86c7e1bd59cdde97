import { describe, expect, test } from "vitest";
import { z } from "zod";
import { checkWith } from "./schema-problems.ts";
import { readYaml } from "./yaml-file.ts";

const schema = z.strictObject({
  boat: z.string().optional(),
  batteries: z.record(
    z.string(),
    z.strictObject({
      instance: z.int("a whole number").min(0, "0 or more"),
      chemistry: z.enum(["lifepo4", "agm"]).optional(),
    }),
  ).optional(),
  ways: z.array(z.union([
    z.strictObject({ post: z.string() }),
    z.strictObject({ mail: z.string(), picture: z.enum(["yes", "no"]) }),
  ])).optional(),
});

function check(text: string) {
  const { document, problems } = readYaml("boat.yaml", text);
  const owner = (path: readonly PropertyKey[]) => path.length === 0 ? "a boat file" : "a battery";
  const checked = checkWith(schema, document, owner);
  return { value: checked.value, problems: [...problems, ...checked.problems] };
}

describe("a document checked against a schema", () => {
  test("comes back as the schema's value when all is well", () => {
    expect(check("boat: hazel\n").value).toEqual({ boat: "hazel" });
  });

  test("names the key it does not know, where it stands and what was probably meant", () => {
    expect(check("boat: x\nbatterys:\n  house: {}\n").problems).toEqual([{
      kind: "unknown-name",
      place: { file: "boat.yaml", line: 2, column: 1 },
      found: "batterys",
      owner: "a boat file",
      nearest: "batteries",
    }]);
  });

  test("finds every mistake at once, in the order of the file", () => {
    const { problems } = check(
      "boat: 7\nbatteries:\n  house: { instance: -1, chemistry: lifepo }\n  start: { nominal: 12 V }\n",
    );
    expect(problems.map((problem) => [problem.kind, problem.place.line, problem.place.column]))
      .toEqual([
        ["wrong-value", 1, 7],
        ["wrong-value", 3, 22],
        ["wrong-value", 3, 37],
        ["missing", 4, 3],
        ["unknown-name", 4, 12],
      ]);
    expect(problems[2]).toMatchObject({ found: "lifepo", nearest: "lifepo4" });
  });

  test("says once that a line of text is none, and nothing of the lines below it", () => {
    const text = "# Look at it.\nwhich engine is which\n# Then go on.\nboat: x\nbatteries: {}\n";
    expect(readYaml("boat.yaml", text).problems).toEqual([{
      kind: "wrong-value",
      place: { file: "boat.yaml", line: 2, column: 1 },
      found: "which engine is which",
      expected: "a colon and a blank after the key",
    }]);
  });

  test("speaks of the shape that was meant where there are several", () => {
    expect(check("ways:\n  - { mail: a, picture: maybe }\n").problems).toMatchObject([
      { kind: "wrong-value", found: "maybe", place: { line: 2, column: 25 } },
    ]);
  });

  test("says where the YAML itself is broken", () => {
    expect(check("boat: x\nboat: y\n").problems).toMatchObject([
      { expected: "each key once; this one is here already", place: { line: 2, column: 1 } },
    ]);
    expect(check("boat: [x\n").problems.length).toBeGreaterThan(0);
    expect(check("batteries:\n\thouse: {}\n").problems.length).toBeGreaterThan(0);
  });
});
