import { matchingParts } from "../../ground/matching-parts.ts";
import type { Problem } from "../../ground/problem.ts";
import type { YamlFile } from "../../ground/yaml-file.ts";

/** Parts of a boat file that are checked and kept for a later version. */
const UNUSED = [
  "networks.*.plan",
  "networks.*.bit-rate",
  "engines.*.address",
  "engines.*.exhaust",
  "generators.*.address",
  "generators.*.exhaust",
  "chargers.*.powered-by",
  "bilges.*.inferred",
  "inverters",
  "shore-power",
  "temperatures",
  "mooring",
  "position",
  "devices.*.watch",
];

export function unusedParts(document: YamlFile): Problem[] {
  const paths = UNUSED.flatMap((pattern) => matchingParts(document.value, pattern));
  const j1939 = matchingParts(document.value, "networks.*.speaks")
    .filter(({ value }) => value === "j1939");
  return [...paths, ...j1939].map(({ path }) => ({
    kind: "notice",
    place: document.place(path, "key"),
    found: path.at(-1) ?? "",
    note: "not used by this version",
  }));
}
