import type { AlarmRecord } from "../alarms/alarm-record.ts";
import { isStanding } from "../alarms/move-words.ts";
import type { Rule } from "../alarms/rules/rule.ts";
import { isHidden, likeWhich } from "./hidden-rules.ts";

/**
 * What is remembered when a run begins, for hidden rules too. One that is like an owner's rule knows
 * what that one knows until it has a memory of its own: what is usual is not learned anew for each
 * value that is tried. One that is like none finds a mark, which each run reaches anew.
 * @param rules the owner's and hidden ones
 * @param records of the owner's rules from the kept file, and of all rules from the run before
 */
export function memoryFor(
  rules: readonly Rule[],
  records: readonly AlarmRecord[],
): AlarmRecord[] {
  const kept = records.filter((record) => likeWhich(record) !== "");
  const tags = new Set(kept.map(({ tag }) => tag));
  const news = rules.filter((rule) => isHidden(rule) && !tags.has(rule.tag));
  return [
    ...kept,
    ...news.flatMap((rule) => {
      const owners = rules.find(({ tag }) => tag === likeWhich(rule));
      return kept.filter(({ tag }) => tag === owners?.tag)
        .map((record) => asKnownTo(rule, record, owners));
    }),
  ];
}

/** A hidden rule is a caution and is put aside by nobody; delays that are other ones begin anew. */
function asKnownTo(rule: Rule, record: AlarmRecord, owners: Rule | undefined): AlarmRecord {
  const isTimedAlike = rule.onDelay === owners?.onDelay && rule.offDelay === owners.offDelay;
  return {
    ...record,
    tag: rule.tag,
    state: isStanding(record.state) ? "acknowledged" : "normal",
    left: isTimedAlike ? record.left : null,
    patience: null,
    risen: false,
    hold: null,
    told: null,
  };
}
