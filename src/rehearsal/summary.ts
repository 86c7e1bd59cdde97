import type { AlarmChange } from "../alarms/change.ts";
import type { AlarmStateName } from "../alarms/words.ts";
import type { Micros } from "../ground/time.ts";

/** What one rule did for one subject in one run. */
export interface RuleSummary {
  readonly tag: string;
  readonly subject: string;
  readonly raised: number;
  /** How long its condition stood, from raising to return or to the run's end. */
  readonly inAlarm: Micros;
}

const STANDING: ReadonlySet<AlarmStateName> = new Set(["unacknowledged", "acknowledged"]);

/**
 * Adds up a run's changes by rule and subject, in order of first change.
 * @param changes in order of time
 * @param end the run's last moment, by the same clock as the changes
 */
export function summarise(changes: readonly AlarmChange[], end: Micros): RuleSummary[] {
  const sums = new Map<string, { tag: string; subject: string; raised: number; inAlarm: Micros }>();
  const standingSince = new Map<string, Micros>();
  for (const change of changes) {
    const key = `${change.tag}/${change.subject}`;
    const sum = sums.get(key) ??
      { tag: change.tag, subject: change.subject, raised: 0, inAlarm: 0 };
    sums.set(key, sum);
    const stood = STANDING.has(change.from);
    const stands = STANDING.has(change.to);
    if (stands && !stood) {
      sum.raised++;
      standingSince.set(key, change.time);
    } else if (stood && !stands) {
      sum.inAlarm += change.time - (standingSince.get(key) ?? change.time);
      standingSince.delete(key);
    }
  }
  for (const [key, since] of standingSince) {
    const sum = sums.get(key);
    if (sum !== undefined) sum.inAlarm += Math.max(0, end - since);
  }
  return [...sums.values()];
}
