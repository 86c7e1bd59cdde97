import { BaseSequencer, type TestSpecification } from "vitest/node";

/**
 * Files that take a minute or more begin first, so that no worker is left alone with one of them at
 * the end. The rest keeps the usual order.
 */
export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const usual = await super.sort(files);
    const place = ({ moduleId }: TestSpecification) => {
      const at = LONGEST.findIndex((name) => moduleId.endsWith(name));
      return at < 0 ? LONGEST.length : at;
    };
    return usual.toSorted((one, other) => place(one) - place(other));
  }
}

const LONGEST = [
  "/faults/kill-at-each-write.test.ts",
  "/journeys/rule-packs.test.ts",
  "/journeys/rule-packs-tell.test.ts",
];
