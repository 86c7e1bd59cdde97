import type { Problem } from "../../ground/problem.ts";
import { nearestName } from "../../ground/spelling.ts";
import type { WrittenFile } from "../../ground/yaml-file.ts";
import { tagsWritten } from "./packs.ts";

/** What every rule says that is not one of a pack. */
const OF_A_NEW_RULE = ["title", "priority"];

/**
 * Rules of a file that mean to change or drop one of its packs, and miss its tag by a letter or two. To
 * drop what is not there stops nothing; it may be a rule of another file.
 */
export function misspelledTags(own: WrittenFile, packs: readonly WrittenFile[]): Problem[] {
  const known = packs.flatMap(tagsWritten);
  return tagsWritten(own).flatMap((tag, i): Problem[] => {
    const keys = own.keys(["alarms", i]);
    const isNew = OF_A_NEW_RULE.every((key) => keys.includes(key));
    const nearest = known.includes(tag) || isNew ? undefined : nearestName(tag, known);
    if (nearest === undefined) return [];
    const place = own.place(["alarms", i, "tag"], "value");
    const found = { found: tag, place, nearest };
    return keys.includes("watch")
      ? [{ kind: "notice", ...found, note: "dropped, and no pack that is used here has it" }]
      : [{ kind: "unknown-name", ...found, owner: "the set of packs used here" }];
  });
}
