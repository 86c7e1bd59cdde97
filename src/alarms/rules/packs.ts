import type { Problem } from "../../ground/problem.ts";
import { nearestName } from "../../ground/spelling.ts";
import { readYaml, type WrittenFile } from "../../ground/yaml-file.ts";

/** The rule packs that a file can use, by name. */
export interface Packs {
  readonly names: readonly string[];
  /** Undefined: there is no such pack. */
  find(name: string): { readonly file: string; readonly text: string } | undefined;
}

export const NO_PACKS: Packs = { names: [], find: () => undefined };

/** The packs that a rule file says it uses, so that somebody can read them; whatever is wrong in it. */
function usedPacks({ value }: WrittenFile): string[] {
  if (typeof value !== "object" || value === null || !("use" in value)) return [];
  return Array.isArray(value.use) ? value.use.filter((name) => typeof name === "string") : [];
}

/** The packs that a file names; problems where there is none of that name, or one is no YAML. */
export function readPacks(
  own: WrittenFile,
  packs: Packs,
): { documents: WrittenFile[]; problems: Problem[] } {
  const documents: WrittenFile[] = [];
  const problems: Problem[] = [];
  usedPacks(own).forEach((name, i) => {
    const pack = packs.find(name);
    if (pack === undefined) {
      const nearest = nearestName(name, packs.names);
      problems.push({
        kind: "unknown-name",
        place: own.place(["use", i], "value"),
        found: name,
        owner: "the folder of rule packs",
        ...(nearest === undefined ? {} : { nearest }),
      });
      return;
    }
    const read = readYaml(pack.file, pack.text);
    problems.push(...read.problems);
    documents.push(read.document);
    if (usedPacks(read.document).length === 0) return;
    problems.push({
      kind: "conflict",
      place: read.document.place(["use"], "key"),
      found: "a pack that is used itself uses others",
      remedy: "name them all in the file that uses this one",
    });
  });
  return { documents, problems };
}

/** Tags of the rules in a pack, as they are written. */
export function tagsOfPack(name: string, packs: Packs): string[] {
  const pack = packs.find(name);
  return pack === undefined ? [] : tagsWritten(readYaml(pack.file, pack.text).document);
}

/** Tags of the rules in a file, as they are written, in its order. */
export function tagsWritten(document: WrittenFile): string[] {
  const tags: string[] = [];
  while (document.keys(["alarms", tags.length]).length > 0) {
    tags.push(document.written(["alarms", tags.length, "tag"]));
  }
  return tags;
}
