import { CronTime } from "cron";
import { z } from "zod";
import { type Clock, isCredible } from "../../ground/clock.ts";
import { type Micros, MILLISECOND, MINUTE } from "../../ground/time.ts";
import type { Document } from "../../store/store.ts";

/** Something that comes again by the boat's clock. */
export interface DiaryEntry {
  /** Kept with the time of the last one, so it stays the same over restarts. */
  readonly name: string;
  /** Five fields; by the boat's time zone. */
  readonly cron: string;
  /** False while it must wait although it is due; left out for never. */
  readonly isReady?: () => boolean;
  /**
   * @param missed when it was due, where nobody was there to do it then; the first of several
   * @param done to be kept together with what is done, so that it is done once
   */
  readonly act: (missed: Micros | undefined, done: Document) => void;
}

/** What is done so much later counts as missed. */
const LATE: Micros = 10 * MINUTE;

/**
 * Does things when they are due, each once: not again after a restart, and what was due while the
 * program was not running once as soon as it runs. Nothing is due while the computer does not know
 * what time it is. An entry that is new, or has a new time, begins now.
 */
export class Diary {
  readonly #next = new Map<DiaryEntry, Micros>();
  #latest: Micros = 0;

  /** @param facts what was kept of an earlier run */
  constructor(
    readonly entries: readonly DiaryEntry[],
    readonly timeZone: string,
    readonly clock: Clock,
    readonly facts: ReadonlyMap<string, string>,
    readonly keep: (documents: readonly Document[]) => void,
  ) {}

  /** Does what is due; cheap to ask. */
  turn(): void {
    const now = this.clock.wall();
    if (!isCredible(now)) return;
    // A clock that was ahead is set right: what was reckoned by it must not be waited for.
    if (this.#latest - now > LATE) {
      for (const entry of this.entries) {
        this.#next.set(entry, nextTime(entry.cron, now, this.timeZone));
      }
    }
    this.#latest = now;
    for (const entry of this.entries) {
      const next = this.#next.get(entry) ?? this.#begin(entry, now);
      if (now < next || entry.isReady?.() === false) continue;
      this.#next.set(entry, nextTime(entry.cron, now, this.timeZone));
      entry.act(now - next > LATE ? next : undefined, doneAt(entry, now));
    }
  }

  #begin(entry: DiaryEntry, now: Micros): Micros {
    const last = lastOf(this.facts.get(keyOf(entry)));
    if (last === undefined) this.keep([doneAt(entry, now)]);
    // A clock that was ahead of the time must not put it off.
    const next = nextTime(entry.cron, Math.min(last ?? now, now), this.timeZone);
    this.#next.set(entry, next);
    return next;
  }
}

/** The first time after an instant. */
export function nextTime(cron: string, after: Micros, timeZone: string): Micros {
  const from = new Date(after / MILLISECOND);
  return new CronTime(cron, timeZone).getNextDateFrom(from, timeZone).toMillis() * MILLISECOND;
}

function keyOf({ name, cron }: DiaryEntry): string {
  return `last ${name} ${cron}`;
}

function doneAt(entry: DiaryEntry, time: Micros): Document {
  return { kind: "fact", key: keyOf(entry), text: String(time) };
}

function lastOf(text: string | undefined): Micros | undefined {
  return text === undefined ? undefined : z.coerce.number().safeParse(text).data;
}
