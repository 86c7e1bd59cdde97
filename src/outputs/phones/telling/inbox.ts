import { type Micros, MINUTE, SECOND } from "../../../ground/time.ts";
import type { ItemKind, RaisingId } from "./notice.ts";

/** What waits to be told to one person. */
export interface Waiting {
  readonly raising: RaisingId;
  readonly kind: Exclude<ItemKind, "was">;
  /** Who did not answer; empty where that is not the reason. */
  readonly after: string;
}

/** What follows an alarm so closely belongs to the same situation, and to the same message. */
export const GATHERED: Micros = 5 * SECOND;

/**
 * More than this many messages in this time are a flood, and become one summary. Somebody at a desk
 * cannot follow more than ten alarms in ten minutes (ANSI/ISA-18.2); somebody with a phone in a
 * pocket has no desk.
 */
export const FLOOD_MESSAGES = 5;
export const FLOOD_TIME: Micros = 2 * MINUTE;
/** In a flood an alarm waits no longer than this after the message before it. */
export const ALARM_PAUSE: Micros = 30 * SECOND;

/**
 * When one person is told what waits for them. All times are steady. An emergency goes at once; an
 * alarm too, unless the person has just been told of another; everything else is gathered for a few
 * seconds, since it seldom comes alone.
 */
export class Inbox {
  waiting: Waiting[] = [];
  /** When to look at what waits; Infinity when nothing does. */
  due: Micros = Infinity;
  /** When the last messages were made, oldest first, no more than make a flood. */
  told: Micros[] = [];
  /** Until nothing comes for as long as makes a flood. */
  isFlooded = false;

  /** Of one raising only the newest word waits. */
  add(item: Waiting, haste: Haste, now: Micros): void {
    this.waiting = this.waiting.filter(({ raising }) => raising !== item.raising);
    this.waiting.push(item);
    if ((this.told.at(-1) ?? -Infinity) <= now - FLOOD_TIME) this.isFlooded = false;
    this.due = Math.min(this.due, this.#earliest(haste, now));
  }

  /**
   * While a flood lasts, until when a message waits; 0 outside one.
   * @param gravest how soon the gravest of what waits must be told
   */
  floodedUntil(gravest: Haste): Micros {
    const last = this.told.at(-1);
    if (!this.isFlooded || gravest === "emergency" || last === undefined) return 0;
    return last + (gravest === "at-once" ? ALARM_PAUSE : FLOOD_TIME);
  }

  /** Of these raisings nothing needs to be told any more. */
  drop(raisings: ReadonlySet<RaisingId>): void {
    this.waiting = this.waiting.filter(({ raising }) => !raisings.has(raising));
  }

  noteTold(now: Micros): void {
    this.told = [...this.told, now].slice(-FLOOD_MESSAGES);
    this.isFlooded ||= this.told.length === FLOOD_MESSAGES && this.told[0] > now - FLOOD_TIME;
  }

  #earliest(haste: Haste, now: Micros): Micros {
    if (haste === "emergency") return now;
    const last = this.told.at(-1) ?? -Infinity;
    return haste === "soon" ? now + GATHERED : Math.max(now, last + GATHERED);
  }
}

/** How soon something must be told. */
export type Haste = "emergency" | "at-once" | "soon";
