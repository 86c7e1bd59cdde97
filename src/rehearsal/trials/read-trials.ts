import { z } from "zod";
import { BUILT_IN_TAGS } from "../../alarms/compile/built-in.ts";
import type { Problem } from "../../ground/problem.ts";
import { isFault } from "../../ground/problem-words.ts";
import { byPlace, checkWith } from "../../ground/schema-problems.ts";
import { nearestName } from "../../ground/spelling.ts";
import { readYaml, type YamlFile } from "../../ground/yaml-file.ts";
import type { Trials } from "./trials.ts";
import { trialsFileSchema } from "./trials-schema.ts";

/** What the names in trials are held against. */
export interface TrialNames {
  /** Null: not given, and no tag is held against them. */
  readonly tags: readonly string[] | null;
  /** Faults that a trip of the simulator can have. */
  readonly faults: readonly string[];
  /** Boxes that a boat of the simulator can have besides. */
  readonly boxes: readonly string[];
}

/** Reads `trials.yaml`; all problems come at once. */
export function readTrials(
  file: string,
  text: string,
  names: TrialNames,
): { value: Trials | undefined; problems: Problem[] } {
  const { document, problems: faults, wellFormed } = readYaml(file, text);
  if (!wellFormed) return { value: undefined, problems: faults };
  const { value, problems } = checkWith(trialsFileSchema, document, ownerOf);
  const all = [...faults, ...problems, ...unknownNames(document, names)].sort(byPlace);
  if (value === undefined || all.some(isFault)) return { value: undefined, problems: all };
  return {
    value: {
      trips: value.trips,
      seed: value.seed ?? 1,
      chance: value["with-fault"] ?? 1,
      aboard: value.aboard ?? [],
      faults: Object.entries(value.faults).map(([name, fault]) => ({
        name,
        toldBy: fault["told-by"] ?? [],
        mayRing: fault["may-ring"] ?? [],
        within: fault.within ?? null,
      })),
    },
    problems: all,
  };
}

/** What is written well and yet means nothing: also where something else is wrong. */
function unknownNames(document: YamlFile, names: TrialNames): Problem[] {
  const problems: Problem[] = [];
  const hold = (
    found: string,
    path: readonly PropertyKey[],
    part: "key" | "value",
    { known, owner }: { readonly known: readonly string[]; readonly owner: string },
  ) => {
    if (known.includes(found)) return;
    const nearest = nearestName(found, known);
    const place = document.place(path, part);
    problems.push({
      kind: "unknown-name",
      place,
      found,
      owner,
      ...(nearest === undefined ? {} : { nearest }),
    });
  };
  const read = looseSchema.safeParse(document.value);
  const { faults, aboard } = read.success ? read.data : { faults: {}, aboard: [] };
  const simulated = { known: names.faults, owner: "the simulator" };
  const tags = names.tags === null
    ? null
    : { known: [...names.tags, ...BUILT_IN_TAGS], owner: "this set of rules" };
  for (const [name, lists] of Object.entries(faults)) {
    hold(name, ["faults", name], "key", simulated);
    if (tags === null) continue;
    for (const [list, said] of Object.entries(lists)) {
      said.forEach((tag, i) => hold(tag, ["faults", name, list, i], "value", tags));
    }
  }
  const boxes = { known: names.boxes, owner: "the simulator" };
  aboard.forEach((box, i) => hold(box, ["aboard", i], "value", boxes));
  return problems;
}

const listOfNames = z.array(z.string()).catch([]);
const looseSchema = z.object({
  faults: z.record(
    z.string(),
    z.object({ "told-by": listOfNames, "may-ring": listOfNames })
      .catch({ "told-by": [], "may-ring": [] }),
  ).catch({}),
  aboard: listOfNames,
});

function ownerOf(path: readonly PropertyKey[]): string {
  return path[0] === "faults" && path.length > 1 ? "a fault" : "a file of trials";
}
