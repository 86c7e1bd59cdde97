import type { Micros } from "../../ground/time.ts";
import { type Delay, dueOf, IDLE } from "./delay.ts";

/**
 * What is known of one alarm: where it stands in its life, and what holds it back from being told.
 * Instants are steady time.
 */
export interface AlarmLife {
  readonly state: AlarmState;
  readonly hold: HoldState;
}

/**
 * States A to F of ANSI/ISA-18.2 (IEC 62682). `raising` is the on-delay while the condition is not
 * regarded as present, `returning` the off-delay while it is.
 */
export type AlarmState =
  | { readonly name: "normal"; readonly occurrence: number; readonly raising: Delay }
  | Unanswered
  | Answered
  | Over;

interface Unanswered extends Raised {
  readonly name: "unacknowledged";
  readonly returning: Delay;
  /** When it rises to an alarm; Infinity for never. */
  readonly rises: Micros;
}

interface Answered extends Raised {
  readonly name: "acknowledged";
  readonly returning: Delay;
  /** When it asks again; Infinity for never. */
  readonly again: Micros;
}

/** The condition is gone, and a person is still to answer or to reset. */
interface Over extends Raised {
  readonly name: "returned-unacknowledged" | "latched-unacknowledged" | "latched-acknowledged";
  readonly raising: Delay;
}

interface Raised {
  readonly occurrence: number;
  /** Nobody answered it as a warning, and it is an alarm since. */
  readonly risen: boolean;
}

/** The condition is regarded as present. */
export type Present = Unanswered | Answered;

/** The last three states of ISA-18.2, G to I, which stand beside the other six. */
export type HoldState =
  | { readonly kind: "none" }
  | { readonly kind: "suppressed-by-design" }
  | TimedHold;

export interface TimedHold {
  readonly kind: "shelved" | "out-of-service";
  readonly until: Micros;
  readonly who: string;
}

export const NO_HOLD: HoldState = { kind: "none" };

/** An alarm that was never raised. */
export const NEVER_RAISED: AlarmLife = {
  state: { name: "normal", occurrence: 0, raising: IDLE },
  hold: NO_HOLD,
};

export function isPresent(state: AlarmState): state is Present {
  return state.name === "unacknowledged" || state.name === "acknowledged";
}

export function isTimed(hold: HoldState): hold is TimedHold {
  return hold.kind === "shelved" || hold.kind === "out-of-service";
}

export function isRisen(state: AlarmState): boolean {
  return state.name !== "normal" && state.risen;
}

/** The delay that runs or may run in a state. */
export function delayOf(state: AlarmState): Delay {
  return isPresent(state) ? state.returning : state.raising;
}

/** When an alarm as it stands rises or asks again; Infinity for never. */
export function patienceOf(state: AlarmState): Micros {
  if (state.name === "unacknowledged") return state.rises;
  return state.name === "acknowledged" ? state.again : Infinity;
}

/** When the alarm wants to be judged again though nothing changed; Infinity for never. */
export function nextDue({ state, hold }: AlarmLife): Micros {
  const own = Math.min(dueOf(delayOf(state)), patienceOf(state));
  return isTimed(hold) ? Math.min(own, hold.until) : own;
}
