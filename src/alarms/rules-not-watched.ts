import type { AlarmSet } from "./alarm-set.ts";
import { NOT_WATCHING, type NotWatched, reasonUnjudged } from "./not-judged.ts";

/** The rules that cannot be judged now, with the reason: alarm by alarm, then those that have none. */
export function rulesNotWatched(set: AlarmSet): NotWatched[] {
  const { alarms, rules } = set;
  const unjudged = alarms.flatMap(({ instance }, i): NotWatched[] => {
    const reason = reasonUnjudged(instance, set.standingOf(i));
    if (reason === "" || reason === NOT_WATCHING) return [];
    const { tag, title } = instance.rule;
    return [{ tag, subject: instance.subject, title, reason }];
  });
  const unfolded = new Set(alarms.map((alarm) => alarm.tag));
  const empty = rules.filter((rule) => !unfolded.has(rule.tag)).map(({ tag, title, each }) => ({
    tag,
    subject: "",
    title,
    reason: `this boat has no ${each} that the rule means`,
  }));
  return [...unjudged, ...empty];
}
