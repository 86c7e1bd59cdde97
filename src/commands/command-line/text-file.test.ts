import { expect, test } from "vitest";
import { ownFolder } from "../../../tests/support/own-folder.ts";
import { readTextFiles } from "./text-file.ts";

test("of a folder the YAML files are read, not an editor's own, expectations or cases", async () => {
  const folder = ownFolder({
    "rules/b.yaml": "b",
    "rules/a.yml": "a",
    "rules/.#b.yaml": "somebody is writing",
    "rules/.b.yaml": "half a file",
    "rules/b.yaml~": "before",
    "rules/trip.expect.yaml": "expect: []",
    "rules/trip.case.yaml": "signals: {}",
  });
  const files = await readTextFiles("rules", folder);
  expect(files.map(({ name, text }) => `${name}: ${text}`)).toEqual([
    "rules/a.yml: a",
    "rules/b.yaml: b",
  ]);
});
