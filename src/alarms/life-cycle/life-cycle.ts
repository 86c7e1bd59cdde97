import type { Micros } from "../../ground/time.ts";
import type { AlarmStateName, Hold } from "../words.ts";
import {
  type AlarmLife,
  type AlarmState,
  type HoldState,
  isPresent,
  isRisen,
  isTimed,
  NO_HOLD,
  patienceOf,
  type Present,
} from "./alarm-life.ts";
import { type Delay, IDLE, stepDelay, type Wanted } from "./delay.ts";
import { type Found, isActive, isClear, Kleene, kleeneNot } from "./kleene.ts";

/** What a rule gives to the life of its alarms. */
export interface Manner {
  readonly onDelay: Micros;
  readonly offDelay: Micros;
  /** False for a caution: it is acknowledged from the start and vanishes when it returns. */
  readonly asksForAnswer: boolean;
  /** When the condition has gone it stays until it is reset. */
  readonly latches: boolean;
  /** After which an answered alarm that is still present asks again; Infinity for never. */
  readonly againAfter: Micros;
  /** After which an unanswered warning becomes an alarm; Infinity for never. */
  readonly risesAfter: Micros;
}

export type Observation = Judged | PersonsMove;

/** The rule was judged, or something of its alarm falls due. */
export interface Judged {
  readonly kind: "judged";
  readonly found: Found;
  readonly watching: Kleene;
  /** Its `suppressed-while` is known to be true. */
  readonly suppressed: boolean;
  /** Another alarm that is present makes it moot. */
  readonly covered: boolean;
  /** An answer is unknown because a signal is no longer heard. */
  readonly lost: boolean;
  /** The longest old age of the signals that make an answer unknown. */
  readonly oldAge: Micros;
  /** From when an on-delay that begins now counts: now, or the last message. */
  readonly from: Micros;
}

/** What a person does about one raising. */
export type PersonsMove =
  & { readonly occurrence: number; readonly who: string }
  & (
    | { readonly kind: "answered" | "reset" | "unshelved" | "back-in-service" }
    | { readonly kind: "shelved" | "out-of-service"; readonly until: Micros }
  );

export interface Transition {
  readonly cause: Judgement | PersonsMove["kind"];
  readonly from: AlarmStateName;
  readonly to: AlarmStateName;
  readonly occurrence: number;
  /** After the change. */
  readonly hold: Hold;
  readonly risen: boolean;
  /** Who did it; empty for what nobody did. */
  readonly by: string;
  /** What moves under a hold is not told, nor that a rule holds back its own alarm or no longer does. */
  readonly isTold: boolean;
}

/** `released`: a hold has ended; `again`: an answered alarm asks once more. */
type Judgement = "raised" | "returned" | "suppressed" | "released" | "risen" | "again";

export interface Step {
  readonly life: AlarmLife;
  readonly transitions: readonly Transition[];
}

/**
 * The life of an alarm after an observation, and its changes, after ANSI/ISA-18.2 (IEC 62682). Nothing
 * is said of a delay that starts or stops; a person's move that does not fit changes nothing.
 */
export function step(
  life: AlarmLife,
  observation: Observation,
  now: Micros,
  manner: Manner,
): Step {
  return observation.kind === "judged"
    ? judged(life, observation, now, manner)
    : moved(life, observation, now, manner);
}

function judged(life: AlarmLife, judgement: Judged, now: Micros, manner: Manner): Step {
  const released = isOver(life.hold, judgement, now) ? release(life, now, manner) : same(life);
  const moved = judgeState(released.life, judgement, now, manner);
  // Nearly always there is no more to it.
  if (released.life === life && !judgement.suppressed && patienceOf(moved.life.state) > now) {
    return moved;
  }
  const suppressed = suppress(moved.life, judgement);
  const asking = ask(suppressed.life, now, manner);
  return joined(released, moved, suppressed, asking);
}

function isOver(hold: HoldState, { suppressed }: Judged, now: Micros): boolean {
  if (isTimed(hold)) return hold.until <= now;
  return hold.kind === "suppressed-by-design" && !suppressed;
}

function judgeState(life: AlarmLife, judgement: Judged, now: Micros, manner: Manner): Step {
  const { state, hold } = life;
  if (isPresent(state)) {
    const times = { length: manner.offDelay, from: now, oldAge: judgement.oldAge };
    const returning = stepDelay(state.returning, wantsReturn(judgement), now, times);
    if (returning.kind === "over") return changed(life, "returned", afterReturn(state, manner));
    return returning === state.returning ? same(life) : still({ ...state, returning }, hold);
  }
  const times = { length: manner.onDelay, from: judgement.from, oldAge: judgement.oldAge };
  const raising = stepDelay(state.raising, wantsRaise(judgement), now, times);
  if (raising.kind !== "over") {
    return raising === state.raising ? same(life) : still({ ...state, raising }, hold);
  }
  const raised = present(state.occurrence + 1, hold, now, manner);
  return changed(life, "raised", raised);
}

/** Holds back an alarm that is normal; one that was raised stays until it is answered. */
function suppress(life: AlarmLife, { suppressed }: Judged): Step {
  if (!suppressed || life.hold.kind !== "none" || life.state.name !== "normal") return same(life);
  return changed(life, "suppressed", life.state, { kind: "suppressed-by-design" });
}

/** Nobody has answered for too long, or it was answered long ago and is still there. */
function ask(life: AlarmLife, now: Micros, manner: Manner): Step {
  const { state } = life;
  if (state.name === "unacknowledged" && state.rises <= now) {
    return changed(life, "risen", { ...state, rises: Infinity, risen: true });
  }
  if (state.name === "acknowledged" && state.again <= now) {
    return changed(life, "again", asking(state, now, manner));
  }
  return same(life);
}

/** The end of a hold: over a condition that is present the alarm asks for an answer. */
function release(
  life: AlarmLife,
  now: Micros,
  manner: Manner,
  cause: Transition["cause"] = "released",
  by = "",
): Step {
  const { state } = life;
  if (!isPresent(state) || !isTimed(life.hold)) return changed(life, cause, state, NO_HOLD, by);
  return changed(life, cause, asking(state, now, manner), NO_HOLD, by);
}

/** Present as before, and asking for an answer anew. */
function asking(state: Present, now: Micros, manner: Manner): Present {
  const { occurrence, returning, risen } = state;
  const anew = { ...present(occurrence, NO_HOLD, now, manner), returning, risen };
  return risen && anew.name === "unacknowledged" ? { ...anew, rises: Infinity } : anew;
}

function moved(life: AlarmLife, move: PersonsMove, now: Micros, manner: Manner): Step {
  const { state, hold } = life;
  if (move.occurrence !== state.occurrence) return same(life);
  switch (move.kind) {
    case "answered":
      return answered(life, move.who, now, manner);
    case "reset":
      return state.name === "latched-acknowledged"
        ? changed(life, "reset", normal(state.occurrence, state.raising), hold, move.who)
        : same(life);
    case "shelved":
      if (hold.kind === "out-of-service") return same(life);
      return held(life, { kind: move.kind, until: move.until, who: move.who });
    case "out-of-service":
      return held(life, { kind: move.kind, until: move.until, who: move.who });
    case "unshelved":
      return hold.kind === "shelved" ? release(life, now, manner, move.kind, move.who) : same(life);
    case "back-in-service":
      return hold.kind === "out-of-service"
        ? release(life, now, manner, move.kind, move.who)
        : same(life);
  }
}

function answered(life: AlarmLife, who: string, now: Micros, manner: Manner): Step {
  const { state, hold } = life;
  const { occurrence } = state;
  switch (state.name) {
    case "unacknowledged": {
      const { returning, risen } = state;
      const again = hold.kind === "none" ? now + manner.againAfter : Infinity;
      const quiet = { name: "acknowledged", occurrence, returning, again, risen } as const;
      return changed(life, "answered", quiet, hold, who);
    }
    case "returned-unacknowledged":
      return changed(life, "answered", normal(occurrence, state.raising), hold, who);
    case "latched-unacknowledged":
      return changed(life, "answered", { ...state, name: "latched-acknowledged" }, hold, who);
    case "normal":
    case "acknowledged":
    case "latched-acknowledged":
      return same(life);
  }
}

/** Under a hold nothing rises and nothing asks again. */
function held(life: AlarmLife, hold: Extract<HoldState, { until: Micros }>): Step {
  const { state } = life;
  const quiet = quieted(state);
  return changed(life, hold.kind, quiet, hold, hold.who);
}

function quieted(state: AlarmState): AlarmState {
  if (state.name === "unacknowledged") return { ...state, rises: Infinity };
  return state.name === "acknowledged" ? { ...state, again: Infinity } : state;
}

function present(occurrence: number, hold: HoldState, now: Micros, manner: Manner): Present {
  const raised = { occurrence, returning: IDLE, risen: false };
  if (!manner.asksForAnswer) return { ...raised, name: "acknowledged", again: Infinity };
  const rises = hold.kind === "none" ? now + manner.risesAfter : Infinity;
  return { ...raised, name: "unacknowledged", rises };
}

function afterReturn(state: Present, { latches }: Manner): AlarmState {
  const { name, occurrence, risen } = state;
  const over = { occurrence, risen, raising: IDLE };
  if (name === "unacknowledged") {
    return { ...over, name: latches ? "latched-unacknowledged" : "returned-unacknowledged" };
  }
  return latches ? { ...over, name: "latched-acknowledged" } : normal(occurrence);
}

function normal(occurrence: number, raising: Delay = IDLE): AlarmState {
  return { name: "normal", occurrence, raising };
}

/** Active and watching: both must be known and true, and nothing may prevent it. */
function wantsRaise(judgement: Judged): Wanted {
  if (judgement.suppressed || judgement.covered) return "no";
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

function changed(
  before: AlarmLife,
  cause: Transition["cause"],
  state: AlarmState,
  hold: HoldState = before.hold,
  by = "",
): Step {
  const transition: Transition = {
    cause,
    from: before.state.name,
    to: state.name,
    occurrence: state.occurrence,
    hold: hold.kind,
    risen: isRisen(state),
    by,
    isTold: by !== "" || !(isTimed(hold) || isOwnHold(before.hold) || isOwnHold(hold)),
  };
  return { life: { state, hold }, transitions: [transition] };
}

function isOwnHold({ kind }: HoldState): boolean {
  return kind === "suppressed-by-design";
}

const NOTHING: readonly Transition[] = [];

function still(state: AlarmState, hold: HoldState): Step {
  return { life: { state, hold }, transitions: NOTHING };
}

function same(life: AlarmLife): Step {
  return { life, transitions: NOTHING };
}

/** Steps one after the other: the last life, and what all of them changed. */
function joined(...steps: readonly Step[]): Step {
  const transitions = steps.flatMap((one) => one.transitions);
  return { life: steps[steps.length - 1].life, transitions };
}
