import type { AlarmChange } from "../../../alarms/change.ts";
import type { Micros } from "../../../ground/time.ts";
import type { RaisingId } from "./notice.ts";

/** One raising of one alarm, from the moment at which somebody should know until nobody need. */
export interface Raising {
  readonly id: RaisingId;
  /** Of the newest change by which it rang, in the store. */
  number: number;
  change: AlarmChange;
  over: AlarmChange | undefined;
  /** Who has answered, or shelved it; null while nobody has. */
  answeredBy: string | null;
  isUnsaved: boolean;
  /** How the last message of it stands, by person. */
  readonly told: Map<string, "on-its-way" | "accepted" | "failed">;
  /** Which people are asked now, from 0. */
  step: number;
  isAgain: boolean;
  /** Steady time at which nobody has answered for long enough; Infinity while nobody is awaited. */
  due: Micros;
}

export function raisingOf(id: RaisingId, number: number, change: AlarmChange): Raising {
  return {
    id,
    number,
    change,
    over: undefined,
    answeredBy: null,
    isUnsaved: false,
    told: new Map(),
    step: 0,
    isAgain: false,
    due: Infinity,
  };
}
