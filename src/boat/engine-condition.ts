import { type Micros, MINUTE, SECOND } from "../ground/time.ts";

/**
 * The condition of an engine, judged from its speed alone (contract §5). Pure: `phaseAfter` gives the
 * next phase when a speed is heard, `presumedStoppedAt` says until when a speed that is no longer good
 * is waited for; from then on the engine is presumed stopped, which counts as known.
 */

/** Codes of the signal `engine/NAME/condition`. */
export const CONDITION_WORDS: ReadonlyMap<number, string> = new Map([
  [0, "stopped"],
  [1, "cranking"],
  [2, "idling"],
  [3, "running"],
  [4, "stopped-presumed"],
]);

/** What is known of the engine. `still` and `runningDown` both read "stopped". */
export const Phase = {
  still: 0,
  cranking: 1,
  idling: 2,
  running: 3,
  presumedStopped: 4,
  /** Nearly at rest: a speed that now rises slowly is not a starter at work. */
  runningDown: 5,
} as const;
export type Phase = (typeof Phase)[keyof typeof Phase];

/** Speeds in 1/min. Common practice for inboard engines, petrol and diesel. */
const STILL_BELOW = 50;
/** Slower than any engine idles; a starter turns no faster. */
const FIRED_FROM = 500;
/** An engine that idles badly may dip below 500; below this it is dying. */
const STOPPED_BELOW = 300;
const RUNNING_FROM = 1000;
const IDLING_BELOW = RUNNING_FROM - 50;
/** Turned off at a speed below this, as an owner does; nobody turns the key at a higher one. */
const KEY_OFF_BELOW = 1200;

/**
 * The phase after a speed was heard. From rest (or heard for the first time) a speed from 50 to 500
 * is cranking; an engine that ran keeps "idling" down to 300 and is then stopped.
 */
export function phaseAfter(before: Phase, speed: number): Phase {
  if (speed < STILL_BELOW) return Phase.still;
  if (speed < FIRED_FROM) {
    switch (before) {
      case Phase.runningDown:
        return Phase.runningDown;
      case Phase.idling:
      case Phase.running:
        return speed < STOPPED_BELOW ? Phase.runningDown : Phase.idling;
      default:
        return Phase.cranking;
    }
  }
  const idlingBelow = before === Phase.running ? IDLING_BELOW : RUNNING_FROM;
  return speed < idlingBelow ? Phase.idling : Phase.running;
}

/**
 * The speeds, from the first up to, without, the second, that keep a phase as it is: `phaseAfter`
 * gives it again for these and for no others.
 */
export function speedsOf(phase: Phase): readonly [from: number, below: number] {
  switch (phase) {
    case Phase.still:
      return [-Infinity, STILL_BELOW];
    case Phase.cranking:
    case Phase.runningDown:
      return [STILL_BELOW, FIRED_FROM];
    case Phase.idling:
      return [STOPPED_BELOW, RUNNING_FROM];
    case Phase.running:
      return [IDLING_BELOW, Infinity];
    case Phase.presumedStopped:
      return [Infinity, Infinity];
  }
}

/**
 * When an engine whose speed is no longer good is presumed stopped.
 * @param lastSpeed the last good speed, 1/min
 * @param lastGood when it was last heard
 * @param badSince when its quality became bad
 */
export function presumedStoppedAt(lastSpeed: number, lastGood: Micros, badSince: Micros): Micros {
  return lastSpeed < KEY_OFF_BELOW ? Math.max(badSince, lastGood + 3 * SECOND) : badSince + MINUTE;
}

/** The code of the word for a phase. */
export function conditionCode(phase: Phase): number {
  return phase === Phase.runningDown ? Phase.still : phase;
}
