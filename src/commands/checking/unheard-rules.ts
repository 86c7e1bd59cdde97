import { neverSent } from "../../alarms/rules/never-raised.ts";
import type { Place, Problem } from "../../ground/problem.ts";
import { readYaml } from "../../ground/yaml-file.ts";
import type { TextFile } from "../command-line/text-file.ts";
import { rulesOf } from "../settings/read-boat.ts";

/** Notices about rules of a file for which nothing was heard; none while the file has a mistake. */
export function unheardRules(file: TextFile, heard: ReadonlySet<string>): Problem[] {
  const { rules = [] } = rulesOf([file]);
  const placeOf = places(file);
  return rules.flatMap((rule) => neverSent(rule, heard, placeOf(rule.tag)));
}

/** Where a rule stands; one of a pack stands where the pack is used. */
function places({ name, text }: TextFile) {
  const { document } = readYaml(name, text);
  const tags: string[] = [];
  while (document.keys(["alarms", tags.length]).length > 0) {
    tags.push(document.written(["alarms", tags.length, "tag"]));
  }
  return (tag: string): Place => {
    const at = tags.indexOf(tag);
    return at < 0 ? document.place(["use"], "key") : document.place(["alarms", at, "tag"], "value");
  };
}
