import type { AlarmChange } from "../alarms/change.ts";
import { isStanding } from "../alarms/move-words.ts";
import type { Micros } from "../ground/time.ts";

/** One raising of one alarm; times by the wall's clock. */
export interface Occurrence {
  readonly tag: string;
  readonly subject: string;
  /** The change that raised it. */
  readonly raising: AlarmChange;
  readonly raised: Micros;
  /** When its condition was over, the off-delay included, answered or not; null: not in this run. */
  readonly returned: Micros | null;
  /** When a person answered; null: nobody did, or it asked for no answer. */
  readonly answered: Micros | null;
}

/** The raisings of a run, in the order in which they came. */
export function occurrencesOf(changes: readonly AlarmChange[]): Occurrence[] {
  const all: { -readonly [Part in keyof Occurrence]: Occurrence[Part] }[] = [];
  const open = new Map<string, typeof all[number]>();
  for (const change of changes) {
    const { tag, subject, time } = change;
    const key = `${tag}/${subject}`;
    const stood = isStanding(change.from);
    const stands = isStanding(change.to);
    const before = open.get(key);
    // What rose while it was put aside is told when it is put back.
    const isNews = before?.raising.occurrence !== change.occurrence;
    if (stands && (!stood || isNews)) {
      if (before !== undefined) before.returned ??= time;
      const occurrence = {
        tag,
        subject,
        raising: change,
        raised: time,
        returned: null,
        answered: null,
      };
      open.set(key, occurrence);
      all.push(occurrence);
      continue;
    }
    if (before === undefined) continue;
    if (stood && !stands) before.returned = time;
    if (change.by !== "") before.answered = time;
  }
  return all;
}
