import type { Micros } from "../../ground/time.ts";
import type { AlarmStateName } from "../words.ts";
import { type Delay, dueOf, IDLE, stepDelay, type Wanted } from "./delay.ts";
import { type Found, isActive, isClear, Kleene, kleeneNot } from "./kleene.ts";

/**
 * The life of one alarm after ANSI/ISA-18.2 (IEC 62682), states A to D. `raising` is the on-delay
 * while the condition is not regarded as present, `returning` the off-delay while it is.
 * Latching adds its two states as variants here; shelving, suppression and out-of-service are
 * observations and a hold beside the state; escalation is one more delay of `unacknowledged`.
 */
export type AlarmState =
  | { readonly name: "normal"; readonly occurrence: number; readonly raising: Delay }
  | { readonly name: "unacknowledged"; readonly occurrence: number; readonly returning: Delay }
  | { readonly name: "acknowledged"; readonly occurrence: number; readonly returning: Delay }
  | {
    readonly name: "returned-unacknowledged";
    readonly occurrence: number;
    readonly raising: Delay;
  };

/** An alarm that was never raised. */
export const NEVER_RAISED: AlarmState = { name: "normal", occurrence: 0, raising: IDLE };

/** What a rule gives to the life of its alarms. */
export interface Manner {
  readonly onDelay: Micros;
  readonly offDelay: Micros;
  /** False for a caution: it is acknowledged from the start and vanishes when it returns. */
  readonly asksForAnswer: boolean;
}

export type Observation =
  | Judged
  /** A person answers one raising. */
  | { readonly kind: "answered"; readonly occurrence: number; readonly who: string };

/** The rule was judged, or a delay of its alarm falls due. */
export interface Judged {
  readonly kind: "judged";
  readonly found: Found;
  readonly watching: Kleene;
  /** An answer is unknown because a signal is no longer heard. */
  readonly lost: boolean;
  /** The longest old age of the signals that make an answer unknown. */
  readonly oldAge: Micros;
  /** From when an on-delay that begins now counts: now, or the last message. */
  readonly from: Micros;
}

export interface Transition {
  readonly cause: "raised" | "returned" | "answered";
  readonly from: AlarmStateName;
  readonly to: AlarmStateName;
  readonly occurrence: number;
  /** Who answered; empty for the other causes. */
  readonly by: string;
}

export interface Step {
  readonly state: AlarmState;
  readonly transitions: readonly Transition[];
}

/**
 * The state after an observation, and the changes to tell. Nothing is told of a delay that starts
 * or stops; an answer that fits no raising changes nothing.
 */
export function step(
  state: AlarmState,
  observation: Observation,
  now: Micros,
  manner: Manner,
): Step {
  return observation.kind === "answered"
    ? answered(state, observation.occurrence, observation.who)
    : judged(state, observation, now, manner);
}

/** When the alarm wants to be judged again though nothing changed; Infinity for never. */
export function nextDue(state: AlarmState): Micros {
  return dueOf(delayOf(state));
}

/** The delay that runs or may run in a state. */
export function delayOf(state: AlarmState): Delay {
  return isRaised(state) ? state.returning : state.raising;
}

function judged(state: AlarmState, judgement: Judged, now: Micros, manner: Manner): Step {
  if (isRaised(state)) {
    const wanted = wantsReturn(judgement);
    const times = { length: manner.offDelay, from: now, oldAge: judgement.oldAge };
    const returning = stepDelay(state.returning, wanted, now, times);
    return returning.kind === "over"
      ? moved(state, "returned", afterReturn(state))
      : stayed(returning === state.returning ? state : { ...state, returning });
  }
  const wanted = wantsRaise(judgement);
  const times = { length: manner.onDelay, from: judgement.from, oldAge: judgement.oldAge };
  const raising = stepDelay(state.raising, wanted, now, times);
  return raising.kind === "over"
    ? moved(state, "raised", {
      name: manner.asksForAnswer ? "unacknowledged" : "acknowledged",
      occurrence: state.occurrence + 1,
      returning: IDLE,
    })
    : stayed(raising === state.raising ? state : { ...state, raising });
}

function answered(state: AlarmState, occurrence: number, who: string): Step {
  if (occurrence !== state.occurrence) return stayed(state);
  switch (state.name) {
    case "unacknowledged":
      return moved(state, "answered", { ...state, name: "acknowledged" }, who);
    case "returned-unacknowledged":
      return moved(state, "answered", { ...state, name: "normal" }, who);
    case "normal":
    case "acknowledged":
      return stayed(state);
  }
}

/** Active and watching: both must be known and true. */
function wantsRaise(judgement: Judged): Wanted {
  const active = isActive(judgement.found);
  return wanted(Math.min(active, judgement.watching), judgement.lost);
}

/** Back from the limit, or no longer watched: either is enough. */
function wantsReturn(judgement: Judged): Wanted {
  const unwatched = kleeneNot(judgement.watching);
  return wanted(Math.max(isClear(judgement.found), unwatched), judgement.lost);
}

function wanted(answer: number, lost: boolean): Wanted {
  if (answer === Kleene.no) return "no";
  if (answer === Kleene.yes) return "yes";
  return lost ? "lost" : "unknown";
}

type Raised = Extract<AlarmState, { returning: Delay }>;

function isRaised(state: AlarmState): state is Raised {
  return state.name === "unacknowledged" || state.name === "acknowledged";
}

function afterReturn(state: Raised): AlarmState {
  return state.name === "acknowledged"
    ? { name: "normal", occurrence: state.occurrence, raising: IDLE }
    : { name: "returned-unacknowledged", occurrence: state.occurrence, raising: IDLE };
}

function moved(before: AlarmState, cause: Transition["cause"], state: AlarmState, by = ""): Step {
  const { name: to, occurrence } = state;
  return { state, transitions: [{ cause, from: before.name, to, occurrence, by }] };
}

const NOTHING: readonly Transition[] = [];

function stayed(state: AlarmState): Step {
  return { state, transitions: NOTHING };
}
