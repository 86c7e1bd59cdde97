import type { AlarmChange } from "../../../alarms/change.ts";
import type { Micros } from "../../../ground/time.ts";

/** An instant by both clocks: timers follow the steady one, quiet hours the wall's. */
export interface Moment {
  readonly steady: Micros;
  readonly wall: Micros;
}

/** What one person is to be told now, as one message. Highest priority first, then the oldest. */
export interface Notice {
  readonly person: string;
  readonly items: readonly NoticeItem[];
  /** The same person was told before and has not answered: the next of their ways goes first. */
  readonly isAgain: boolean;
}

export interface NoticeItem {
  readonly raising: RaisingId;
  /** The change by which it was raised, with its number in the store. */
  readonly number: number;
  readonly change: AlarmChange;
  /** By which it was over; only for `over` and `was`. */
  readonly over: AlarmChange | undefined;
  readonly kind: ItemKind;
  /** Who did not answer; only for `passed-on`. */
  readonly after: string;
  /** The disk has not taken it. */
  readonly isUnsaved: boolean;
}

/**
 * - `raised`: for the first time to this person
 * - `again`: nobody has answered
 * - `passed-on`: somebody before this person has not answered
 * - `over`: after this person was told of it
 * - `was`: over before this person could be told of it
 */
export type ItemKind = "raised" | "again" | "passed-on" | "over" | "was";

/** `TAG/SUBJECT/OCCURRENCE` */
export type RaisingId = string;

export function raisingId({ tag, subject, occurrence }: AlarmChange): RaisingId {
  return `${tag}/${subject}/${occurrence}`;
}
