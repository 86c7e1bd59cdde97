/**
 * The boat file: what its owner says of a boat, checked as a whole and turned into the `Boat` that
 * the other floors know.
 *
 * Order: YAML → schema (`boat-file/schema.ts`, one file for each sort of thing) → checks across
 * parts on what is sound → `Boat`.
 */
import type { Problem } from "../ground/problem.ts";
import { isFault } from "../ground/problem-words.ts";
import { byPlace, checkWith } from "../ground/schema-problems.ts";
import { soundPart } from "../ground/sound-part.ts";
import { readYaml } from "../ground/yaml-file.ts";
import type { Boat } from "./boat.ts";
import { boatFrom } from "./boat-file/boat-from.ts";
import { indistinctKeys } from "./boat-file/indistinct-keys.ts";
import { sharedBuses, unlistedNames } from "./boat-file/references.ts";
import { misleadingNames } from "./boat-file/misleading-names.ts";
import { ownerOf } from "./boat-file/owners.ts";
import { boatFileSchema } from "./boat-file/schema.ts";
import { subjectsOf } from "./boat-file/subjects.ts";
import { unusedParts } from "./boat-file/unused-parts.ts";

export interface ReadBoat {
  /** Undefined where anything but a notice was found. */
  readonly boat: Boat | undefined;
  /** All problems in the order of the file, notices among them. */
  readonly problems: readonly Problem[];
}

/**
 * Reads a boat file. Never throws for what a person wrote.
 * @param file the name as the person would say it
 */
export function readBoatFile(file: string, text: string): ReadBoat {
  const { document, problems: yamlProblems, wellFormed } = readYaml(file, text);
  if (!wellFormed) return { boat: undefined, problems: yamlProblems };
  // A file with nothing in it is a boat about which nothing is said.
  const schema = boatFileSchema.nullable();
  const checked = checkWith(schema, document, ownerOf);
  const sound = soundPart(schema, document.value) ?? {};
  const subjects = subjectsOf(sound);
  const notices = unusedParts(document);
  const problems = [
    ...yamlProblems,
    ...checked.problems,
    ...unlistedNames(document),
    ...sharedBuses(document),
    ...misleadingNames(document, subjects),
    ...indistinctKeys(document, subjects),
    ...notices,
  ].toSorted(byPlace);
  return { boat: problems.some(isFault) ? undefined : boatFrom(sound, notices), problems };
}
