import type { FrameBatch } from "../../bus/frame-batch.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import { ADDRESS_CLAIM } from "../devices.ts";
import { pgnOf, sourceOf } from "../identifier.ts";
import type { FrameHistory } from "./frame-history.ts";
import { Rhythm, type Testimony } from "./rhythm.ts";

/** How long before a jump rhythms are learned. */
const LEARNED_OVER: Micros = 5 * SECOND;
/** Two buses, or late hand-over: frames may be out of order by this much. */
const DISORDER: Micros = SECOND;
/** Share of a sender's rhythms, and of the senders, that must go on. Judgement. */
const NEARLY_ALL = 0.8;
/** How likely chance alone may be, at most. Judgement. */
const CHANCE = 0.05;

/**
 * Whether the bus went on across a forward jump of the stamps as if no time had passed: nearly every
 * sender says what it says next when that is due by the rhythm that it had, and does not claim its
 * address anew. After a real gap rhythms begin anew, at another beat; a device that was without power
 * claims its address.
 *
 * @param before what was heard up to the jump
 * @param lastBefore stamp of the last frame before it
 * @param after the frames from the jump on, at least one, as many as are known
 */
export function busGoesOn(before: FrameHistory, lastBefore: Micros, after: FrameBatch): boolean {
  const { rhythms, longestPause } = rhythmsOf(before, lastBefore);
  const firstAfter = after.times[0];
  const heard = after.times[after.count - 1] - firstAfter;
  const { claimed, next } = lookAt(after);
  const senders = new Map<number, Testimony[]>();
  for (const [key, rhythm] of rhythms) {
    const quiet = lastBefore - rhythm.last;
    const came = (next.get(key) ?? Infinity) - firstAfter;
    const testimony = rhythm.judge({ quiet, came, heard, unsure: longestPause });
    if (testimony === undefined) continue;
    const sender = senderOf(key);
    senders.set(sender, [...senders.get(sender) ?? [], testimony]);
  }
  const goOn = [...senders].filter(([sender, all]) => !claimed.has(sender) && isKeptBy(all));
  // What one sender says is of one beat: the surest of it counts.
  const chance = goOn.reduce((sum, [, all]) => sum * Math.min(...all.map(chanceOf)), 1);
  return goOn.length >= NEARLY_ALL * senders.size && chance <= CHANCE;
}

function isKeptBy(testimonies: readonly Testimony[]): boolean {
  const kept = testimonies.filter(({ isKept }) => isKept).length;
  return kept >= NEARLY_ALL * testimonies.length;
}

function chanceOf({ isKept, chance }: Testimony): number {
  return isKept ? chance : 1;
}

/** Rhythms by kind of frame, and the longest pause between two frames of any kind. */
function rhythmsOf(before: FrameHistory, lastBefore: Micros) {
  const rhythms = new Map<number, Rhythm>();
  let longestPause: Micros = 0;
  let later = lastBefore;
  before.within(lastBefore - LEARNED_OVER, lastBefore + DISORDER, (time, bus, identifier) => {
    longestPause = Math.max(longestPause, later - time);
    later = time;
    const key = keyOf(bus, identifier);
    const rhythm = rhythms.get(key);
    if (rhythm === undefined) rhythms.set(key, new Rhythm(time));
    else rhythm.goBack(time);
  });
  return { rhythms, longestPause };
}

/** When the first frame of each kind came, and who claimed an address. */
function lookAt({ buses, count, identifiers, times }: FrameBatch) {
  const next = new Map<number, Micros>();
  const claimed = new Set<number>();
  for (let i = count - 1; i >= 0; i--) {
    const key = keyOf(buses[i], identifiers[i]);
    next.set(key, times[i]);
    if (pgnOf(identifiers[i]) === ADDRESS_CLAIM) claimed.add(senderOf(key));
  }
  return { next, claimed };
}

/** A kind of frame: bus and identifier. */
function keyOf(bus: number, identifier: number): number {
  return bus * 2 ** 32 + identifier;
}

/** Bus and address. */
function senderOf(key: number): number {
  return (Math.floor(key / 2 ** 32) << 8) | sourceOf(key);
}
