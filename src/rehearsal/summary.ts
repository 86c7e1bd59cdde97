import type { AlarmChange } from "../alarms/change.ts";
import type { Micros } from "../ground/time.ts";
import { occurrencesOf } from "./occurrences.ts";

/** What one rule did for one subject in one run. */
export interface RuleSummary {
  readonly tag: string;
  readonly subject: string;
  readonly raised: number;
  /** How long its condition stood, from raising to return or to the run's end. */
  readonly inAlarm: Micros;
}

/**
 * Adds up the raisings of a run by rule and subject, in the order in which they first came.
 * @param changes in order of time
 * @param end the run's last moment, by the same clock as the changes
 */
export function summarise(changes: readonly AlarmChange[], end: Micros): RuleSummary[] {
  const sums = new Map<string, RuleSummary>();
  for (const { tag, subject, raised, returned } of occurrencesOf(changes)) {
    const key = `${tag}/${subject}`;
    const before = sums.get(key) ?? { tag, subject, raised: 0, inAlarm: 0 };
    const lasted = Math.max(0, (returned ?? end) - raised);
    sums.set(key, { ...before, raised: before.raised + 1, inAlarm: before.inAlarm + lasted });
  }
  return [...sums.values()];
}
