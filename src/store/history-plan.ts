import { DAY, type Micros, MINUTE } from "../ground/time.ts";

/** Which signals are kept, and how finely (`history:` in the settings). */
export interface HistoryPlan {
  /** Minutes from one record to the next, for what nobody says otherwise about; divides an hour. */
  readonly every: number;
  /** Signals beside those that rules name; the first that fits counts. */
  readonly listed: readonly ListedSignals[];
  /** Records are kept so long; the oldest go earlier where they take more room than this. */
  readonly kept: Micros;
  readonly mostBytes: number;
}

export interface ListedSignals {
  /** A name in which `*` stands for any one part: `battery/*` + `/voltage`. */
  readonly name: string;
  readonly every: number;
}

export const USUAL_PLAN: HistoryPlan = {
  every: 1,
  listed: [],
  kept: 90 * DAY,
  mostBytes: 1_000_000_000,
};

/** Lengths of records that never straddle an hour. */
export const LENGTHS: readonly number[] = [1, 2, 3, 4, 5, 6, 10, 12, 15, 20, 30, 60];

/** Minutes from one record of a signal to the next; 0: it is not kept. */
export function lengthOf(plan: HistoryPlan, name: string, isNamedByRules: boolean): number {
  const listed = plan.listed.find((one) => fits(one.name, name));
  if (listed !== undefined) return listed.every;
  return isNamedByRules ? plan.every : 0;
}

/** A count of minutes since the epoch. */
export function minuteOf(wall: Micros): number {
  return Math.floor(wall / MINUTE);
}

function fits(pattern: string, name: string): boolean {
  const wanted = pattern.split("/");
  const parts = name.split("/");
  return wanted.length === parts.length &&
    wanted.every((part, i) => part === "*" || part === parts[i]);
}
