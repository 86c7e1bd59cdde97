import { describe, expect, test } from "vitest";
import { sayProblem } from "../../ground/problem-words.ts";
import { KNOWN } from "../../../tests/support/hand-made-boat.ts";
import type { Packs } from "./packs.ts";
import { readRules } from "./read-rules.ts";
import { unknownCovers } from "./unknown-covers.ts";

const ruleOf = (tag: string, covers = "") =>
  `  - { tag: ${tag}, title: A, each: bilge, priority: alarm, covers: [${covers}],
      reads: { signal: float, one-of: [on] } }\n`;

const TEXTS = new Map([
  ["engines", `alarms:\n${ruleOf("coolant-hot", "of-another-pack")}`],
  ["petrol-engines", `alarms:\n${ruleOf("coolant-hot")}`],
]);
const PACKS: Packs = {
  names: [...TEXTS.keys()],
  find(name) {
    const text = TEXTS.get(name);
    return text === undefined ? undefined : { file: `${name}.yaml`, text };
  },
};

function notices(...texts: readonly string[]): string[] {
  const files = texts.map((text, i) => readRules(`${i}.yaml`, text, KNOWN, PACKS));
  return unknownCovers(files, ["built-in"], PACKS).map(sayProblem);
}

describe("what a rule covers", () => {
  test("is a rule of any file, of a pack that is used, one that is dropped, or built in", () => {
    const text = ruleOf("high-water", "pump-runs-long, coolant-hot, dropped, built-in");
    const dropped = "  - { tag: dropped, watch: no }\n";
    expect(notices(
      `use: [engines]\nalarms:\n${text}${dropped}`,
      `alarms:\n${ruleOf("pump-runs-long")}`,
    )).toEqual([]);
  });

  test("is held against the tags that there are, wherever it is misspelled", () => {
    expect(notices(`alarms:\n${ruleOf("high-water", "pump-runs-lnog, hihg-water, coolant-hto")}`))
      .toEqual([
        '0.yaml:2:73: "pump-runs-lnog" is covered for nothing: no rule has this tag.',
        '0.yaml:2:89: "hihg-water" is covered for nothing: no rule has this tag; ' +
        'did you mean "high-water"?',
        '0.yaml:2:101: "coolant-hto" is covered for nothing: no rule has this tag; ' +
        'did you mean "coolant-hot"?',
      ]);
  });

  test("may be of a pack that is not used, and which one is said", () => {
    expect(notices(`alarms:\n${ruleOf("high-water", "coolant-hot")}`)).toEqual([
      '0.yaml:2:73: "coolant-hot" is covered for nothing: it is a rule of engines and of ' +
      "petrol-engines, not used here.",
    ]);
  });

  test("is the pack's own affair where a pack says it", () => {
    expect(notices("use: [engines]")).toEqual([]);
  });

  test("is said of a rule that is faulty elsewhere too", () => {
    const text = ruleOf("high-water", "hihg-water").replace("float", "flaot");
    expect(notices(`alarms:\n${text}`)).toHaveLength(1);
  });
});
