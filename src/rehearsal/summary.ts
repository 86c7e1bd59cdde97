import type { Micros } from "../ground/time.ts";
import { occurrencesOf } from "./occurrences.ts";
import type { RunRecord } from "./run-record.ts";

/** What one rule did for one subject in one run. */
export interface RuleSummary {
  readonly tag: string;
  readonly subject: string;
  readonly raised: number;
  /** The run before has left it standing. */
  readonly stood: boolean;
  /** How long its condition stood, from raising or the run's start to return or the run's end. */
  readonly inAlarm: Micros;
}

/** Adds up the raisings of a run by rule and subject, in the order in which they first came. */
export function summarise(
  { stood, changes, ends }: Pick<RunRecord, "stood" | "changes" | "ends">,
): RuleSummary[] {
  const sums = new Map<string, RuleSummary>();
  for (const { tag, subject, raising, raised, returned } of occurrencesOf([...stood, ...changes])) {
    const key = `${tag}/${subject}`;
    const before = sums.get(key) ?? { tag, subject, raised: 0, stood: false, inAlarm: 0 };
    const lasted = Math.max(0, (returned ?? ends) - raised);
    const isOld = stood.includes(raising);
    sums.set(key, {
      tag,
      subject,
      raised: before.raised + (isOld ? 0 : 1),
      stood: before.stood || isOld,
      inAlarm: before.inAlarm + lasted,
    });
  }
  return [...sums.values()];
}
