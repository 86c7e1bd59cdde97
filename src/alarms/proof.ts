import { DAY, type Micros } from "../ground/time.ts";
import type { Alarm } from "./alarm.ts";
import type { Priority } from "./words.ts";

/** When an alarm was last really made to sound: the float lifted by hand, not a rehearsal. */
export interface Proof {
  readonly tag: string;
  readonly subject: string;
  readonly title: string;
  readonly priority: Priority;
  /** Wall time of the last raising that was told; null for never. */
  readonly sounded: Micros | null;
  /** A season has passed since, or it never was. */
  readonly isDue: boolean;
}

/** Half a year: common practice is to try alarms when the boat goes in and when she comes out. */
export const SEASON: Micros = 183 * DAY;

/** Alarms that ask for an answer, those that are due first. */
export function proofOf(alarms: readonly Alarm[], wall: Micros): Proof[] {
  return alarms.filter((alarm) => alarm.rule.priority !== "caution").map((alarm): Proof => {
    const { tag, subject, rule: { title, priority }, soundedAt: sounded } = alarm;
    const isDue = sounded === null || wall - sounded > SEASON;
    return { tag, subject, title, priority, sounded, isDue };
  }).sort((a, b) => (a.sounded ?? 0) - (b.sounded ?? 0));
}
