import type { AlarmSet, Ground } from "./alarm-set.ts";
import { leftOpen } from "./left-open.ts";
import { NOT_WATCHING, type NotWatched, reasonUnjudged } from "./not-judged.ts";

/**
 * The rules that cannot be judged now, with the reason: alarm by alarm, then those that may be about
 * something of which the boat file says too little, then those that are about nothing aboard.
 */
export function rulesNotWatched(
  set: AlarmSet,
  { table, boat }: Omit<Ground, "oldAgeOf">,
): NotWatched[] {
  const { alarms, rules } = set;
  const unjudged = alarms.flatMap(({ instance }, i): NotWatched[] => {
    const reason = reasonUnjudged(instance, set.standingOf(i));
    if (reason === "" || reason === NOT_WATCHING) return [];
    const { tag, title } = instance.rule;
    return [{ tag, subject: instance.subject, title, reason }];
  });
  const open = rules.flatMap((rule) =>
    leftOpen(rule, table, boat).map(({ subject, key }): NotWatched => ({
      tag: rule.tag,
      subject,
      title: rule.title,
      reason: `the boat file does not say its "${key}"`,
    }))
  );
  const told = new Set([...alarms, ...open].map((one) => one.tag));
  const empty = rules.filter((rule) => !told.has(rule.tag)).map(({ tag, title, each }) => ({
    tag,
    subject: "",
    title,
    reason: `this boat has no ${each} that the rule means`,
  }));
  return [...unjudged, ...open, ...empty];
}
