import type { Micros } from "../ground/time.ts";
import type { Explanation } from "./explanation.ts";
import type { AlarmStateName, Hold, Priority } from "./words.ts";
import type { UnitCode } from "../units/codes.ts";

/** One change of one alarm: what `event` carries (contract §4), without `epoch` and `number`. */
export interface AlarmChange {
  readonly tag: string;
  readonly subject: string;
  /** Counted by tag and subject from 1. */
  readonly occurrence: number;
  readonly from: AlarmStateName;
  readonly to: AlarmStateName;
  readonly hold: Hold;
  readonly priority: Priority;
  /** The signal that was judged; empty where a rule judges none. */
  readonly signal: string;
  /** At that instant, in `unit`; null when not known; a word for enumerated signals. */
  readonly value: number | string | null;
  readonly unit: UnitCode;
  /** The limit at that instant; null where the kind has none. */
  readonly setpoint: number | null;
  /** Wall time, microseconds. */
  readonly time: Micros;
  /** One sentence of explanation. */
  readonly why: string;
  /** Who answered; empty for changes that nobody made. */
  readonly by: string;
  /** The same as data: what the rule looked at, and what let it be judged. */
  readonly explanation?: Explanation;
}

/** One alarm as it stands: what `alarm/TAG/SUBJECT` and the page show. */
export interface AlarmStatus {
  readonly tag: string;
  readonly subject: string;
  readonly title: string;
  readonly state: AlarmStateName;
  readonly hold: Hold;
  /** Wall time at which a person's hold ends by itself; left out where there is none. */
  readonly heldUntil?: Micros;
  /** 0 until first raised. */
  readonly occurrence: number;
  readonly priority: Priority;
  readonly signal: string;
  readonly value: number | string | null;
  readonly unit: UnitCode;
  readonly setpoint: number | null;
  /** Wall time of raising; null until first raised. */
  readonly raised: Micros | null;
  /** Wall time of the last change; null before the first. */
  readonly changed: Micros | null;
  readonly message: string;
  readonly consequence: string;
  readonly response: { readonly aboard: string; readonly ashore: string };
}

/** Room left of one watched rule (contract §5). */
export interface RoomLeft {
  readonly tag: string;
  readonly subject: string;
  readonly title: string;
  readonly priority: Priority;
  readonly signal: string;
  /**
   * What value and limit are: what the signal reads, a figure made of it (which may be a difference
   * between two values), or for how long it has not been heard.
   */
  readonly kind: "reading" | "figure" | "difference" | "age";
  readonly value: number | null;
  readonly setpoint: number | null;
  readonly unit: UnitCode;
  /** Which side of the limit is wrong. */
  readonly side: "low" | "high";
  /** Share of the usual range; negative beyond the limit; null with a `reason`. */
  readonly room: number | null;
  /** Why there is none: "not watching", "not heard", … ; empty when there is. */
  readonly reason: string;
  /** The least of the last hour and day, looked at once a second while watching; null for none. */
  readonly hour?: number | null;
  readonly day?: number | null;
}

export type { Acknowledge, Answer, AnswerOutcome } from "./answer.ts";
