import { matchingParts } from "../../ground/matching-parts.ts";
import type { Problem } from "../../ground/problem.ts";
import type { YamlFile } from "../../ground/yaml-file.ts";

/** Parts of a boat file that are checked and kept for a later version. */
const UNUSED = [
  "networks.*.plan",
];

export function unusedParts(document: YamlFile): Problem[] {
  const paths = UNUSED.flatMap((pattern) => matchingParts(document.value, pattern));
  return paths.map(({ path }) => ({
    kind: "notice",
    place: document.place(path, "key"),
    found: path.at(-1) ?? "",
    note: "not used by this version",
  }));
}
