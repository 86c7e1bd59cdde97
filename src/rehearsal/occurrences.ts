import type { AlarmChange } from "../alarms/change.ts";
import type { AlarmStateName } from "../alarms/words.ts";
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

/** States in which the condition is there. */
const STANDING: ReadonlySet<AlarmStateName> = new Set(["unacknowledged", "acknowledged"]);

/** The raisings of a run, in the order in which they came. */
export function occurrencesOf(changes: readonly AlarmChange[]): Occurrence[] {
  const all: { -readonly [Part in keyof Occurrence]: Occurrence[Part] }[] = [];
  const open = new Map<string, typeof all[number]>();
  for (const change of changes) {
    const { tag, subject, time } = change;
    const key = `${tag}/${subject}`;
    const stood = STANDING.has(change.from);
    const stands = STANDING.has(change.to);
    if (stands && !stood) {
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
    const occurrence = open.get(key);
    if (occurrence === undefined) continue;
    if (stood && !stands) occurrence.returned = time;
    if (change.by !== "") occurrence.answered = time;
  }
  return all;
}
