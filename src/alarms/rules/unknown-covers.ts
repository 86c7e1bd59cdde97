import type { Problem } from "../../ground/problem.ts";
import { nearestName } from "../../ground/spelling.ts";
import { NO_PACKS, type Packs, tagsOfPack } from "./packs.ts";
import type { ReadRules } from "./read-rules.ts";

/**
 * Notices of what rule files cover and no rule of theirs is called. That stops nothing: the pack in
 * which it stands may come later, or the boat may not need it.
 * @param known tags that rules beside these have: the built-in ones
 */
export function unknownCovers(
  files: readonly ReadRules[],
  known: readonly string[],
  packs: Packs = NO_PACKS,
): Problem[] {
  const tags = new Set([...files.flatMap((file) => file.tags), ...known]);
  const unknown = files.flatMap((file) => file.covered).filter(({ tag }) => !tags.has(tag));
  if (unknown.length === 0) return [];
  const tagsOfPacks = packs.names.map((name) => ({ name, tags: tagsOfPack(name, packs) }));
  const names = [...tags, ...tagsOfPacks.flatMap((pack) => pack.tags)];
  return unknown.map(({ tag, place }): Problem => {
    const from = tagsOfPacks.filter((pack) => pack.tags.includes(tag)).map(({ name }) => name);
    if (from.length > 0) {
      const note = `covered for nothing: it is a rule of ${from.join(" and of ")}, not used here`;
      return { kind: "notice", place, found: tag, note };
    }
    const nearest = nearestName(tag, names);
    const meant = nearest === undefined ? {} : { nearest };
    const note = "covered for nothing: no rule has this tag";
    return { kind: "notice", place, found: tag, note, ...meant };
  });
}
