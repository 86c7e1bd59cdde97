import { isCredible } from "../ground/clock.ts";
import { DAY, type Micros } from "../ground/time.ts";
import type { Alarm } from "./alarm.ts";
import type { Priority } from "./words.ts";

/** When an alarm was last really made to sound: the float lifted by hand, not a rehearsal. */
export interface Proof {
  readonly tag: string;
  readonly subject: string;
  readonly title: string;
  readonly priority: Priority;
  /** The signal that is judged; empty where none is. */
  readonly signal: string;
  /** Wall time of the last raising that was told; null for never. */
  readonly sounded: Micros | null;
  /** When it wants to be tried: a season after it sounded, or after the watch began. */
  readonly due: Micros;
}

/** Half a year: common practice is to try alarms when the boat goes in and when she comes out. */
export const SEASON: Micros = 183 * DAY;

/**
 * Alarms that ask for an answer, those first that want to be tried first. Rules of one title about one
 * signal (high water at rest, and under way) are one alarm to who lifts the float: either proves it.
 * @param since wall time at which this boat was watched first. What sounded while the clock was not
 * set did so after that.
 */
export function proofOf(alarms: readonly Alarm[], since: Micros): Proof[] {
  const proofs = alarms.filter(({ rule }) => rule.priority !== "caution").map((alarm): Proof => {
    const { tag, subject, rule: { title, priority }, soundedAt: sounded } = alarm;
    const last = sounded !== null && isCredible(sounded) ? sounded : since;
    const { signalName: signal } = alarm.instance;
    return { tag, subject, title, priority, signal, sounded, due: last + SEASON };
  });
  const latest = new Map<string, Proof>();
  for (const proof of proofs) {
    const key = JSON.stringify([proof.title, proof.subject, proof.signal]);
    const other = latest.get(key);
    if (other === undefined || (proof.sounded ?? 0) > (other.sounded ?? 0)) latest.set(key, proof);
  }
  return [...latest.values()].sort((a, b) => a.due - b.due);
}
