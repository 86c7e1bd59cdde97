import type { AlarmSet, Ground } from "./alarm-set.ts";
import { type LeftOpen, leftOpen } from "./left-open.ts";
import { compare } from "./compile/unfold.ts";
import { NOT_WATCHING, type NotWatched, reasonUnjudged } from "./not-judged.ts";
import { groupOfEach } from "./rules/signal-name.ts";

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
  const open = rules.flatMap((rule): NotWatched[] => {
    const { tag, title, each } = rule;
    const reason = openWords(groupOfEach(each ?? ""), leftOpen(rule, table, boat));
    return reason === "" ? [] : [{ tag, subject: "", title, reason }];
  });
  const told = new Set([...alarms, ...open].map((one) => one.tag));
  const empty = rules.filter((rule) => !told.has(rule.tag)).map(({ tag, title, each }) => ({
    tag,
    subject: "",
    title,
    reason: `this boat has no ${each} that the rule means`,
  }));
  return [...unjudged, ...open, ...empty];
}

/** `the boat file does not say "fuel" of engine 0, 1`; empty where it says enough. */
function openWords(group: string, open: readonly LeftOpen[]): string {
  const byKey = Map.groupBy(open, ({ key }) => key);
  const unsaid = [...byKey].map(([key, things]) =>
    `"${key}" of ${group} ${things.map(({ subject }) => subject).sort(compare).join(", ")}`
  );
  return unsaid.length === 0 ? "" : `the boat file does not say ${unsaid.join(", nor ")}`;
}
