import { leftOpen } from "../../alarms/left-open.ts";
import { tagsWritten } from "../../alarms/rules/packs.ts";
import { unknownOnly } from "../../alarms/rules/unknown-only.ts";
import { unknownSubjects } from "../../alarms/rules/unknown-subjects.ts";
import { type Heard, neverSent } from "../../alarms/rules/never-sent.ts";
import { curveBeyondRating } from "../../alarms/rules/curve-beyond-rating.ts";
import type { Boat } from "../../boat/boat.ts";
import type { Place, Problem } from "../../ground/problem.ts";
import { readYaml } from "../../ground/yaml-file.ts";
import type { TextFile } from "../command-line/text-file.ts";
import type { Rule } from "../../alarms/rules/rule.ts";
import { groupOfEach } from "../../alarms/rules/signal-name.ts";
import { rulesOf } from "../settings/read-boat.ts";

/**
 * Notices about rules of a file that do not fit what is known of a boat; none while the file has a
 * mistake.
 * @param boats that are described; the first is the one by which the recording was read
 * @param heard what a recording brought; undefined where there is none
 */
export function ruleNotices(
  file: TextFile,
  boats: readonly Boat[],
  heard: Heard | undefined,
): Problem[] {
  const { rules = [] } = rulesOf([file]);
  const placeOf = places(file);
  const fitting = rules.flatMap((rule) => {
    const place = placeOf(rule.tag);
    const unsent = heard === undefined ? [] : neverSent(rule, heard, boats[0], place);
    const unfit = boats.flatMap((boat) => [
      ...curveBeyondRating(rule, boat, place),
      ...unknownOnly(rule, boat, place),
      ...unknownSubjects(rule, boat, place),
    ]);
    return [...unfit, ...unsent];
  });
  const open = boats.flatMap((boat, i) =>
    openNotices(rules, boat, i === 0 ? heard : undefined, placeOf)
  );
  return [...fitting, ...open];
}

/** One notice of each thing that rules leave alone because the boat file says too little of it. */
function openNotices(
  rules: readonly Rule[],
  boat: Boat,
  heard: Heard | undefined,
  placeOf: (tag: string) => Place,
): Problem[] {
  const table = { subjectsOf: (group: string) => subjectsOf(group, boat, heard) };
  const open = rules.flatMap((rule) =>
    leftOpen(rule, table, boat).map(({ subject, key }) => ({
      tag: rule.tag,
      thing: `${groupOfEach(rule.each ?? "")} ${subject}`,
      key,
    }))
  );
  const alike = Map.groupBy(open, ({ thing, key }) => `${thing} ${key}`);
  return [...alike.values()].map(([{ tag, thing, key }, ...others]): Problem => {
    const rest = others.length === 0
      ? ""
      : ` and ${others.length} ${others.length === 1 ? "other rule" : "other rules"}`;
    return {
      kind: "notice",
      place: placeOf(tag),
      found: thing,
      note: `not watched by "${tag}"${rest}: the boat file does not say its "${key}"`,
    };
  });
}

/** What the boat file names of a group, and what was heard of it, each once. */
function subjectsOf(group: string, boat: Boat, heard: Heard | undefined): string[] {
  const named = boat.subjects.filter((one) => one.group === group).map(({ name }) => name);
  const spoken = [...heard?.keys() ?? []].map((signal) => signal.split("/"))
    .filter((parts) => parts.length > 2 && parts[0] === group).map(([, subject]) => subject);
  return [...new Set([...named, ...spoken])];
}

/** Where a rule stands; one of a pack stands where the pack is used. */
function places({ name, text }: TextFile) {
  const { document } = readYaml(name, text);
  const tags = tagsWritten(document);
  return (tag: string): Place => {
    const at = tags.indexOf(tag);
    return at < 0 ? document.place(["use"], "key") : document.place(["alarms", at, "tag"], "value");
  };
}
