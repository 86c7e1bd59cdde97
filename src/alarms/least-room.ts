import { HOUR, type Micros, MINUTE } from "../ground/time.ts";

/**
 * The least room that one rule had in the last hour and the last day, to the minute and the hour:
 * what left the window less than a minute (an hour) ago may still count.
 */
export class LeastRoom {
  readonly #minutes = new Lows(MINUTE, 60);
  readonly #hours = new Lows(HOUR, 24);

  /** @param room a share of the usual range, while the rule watches and is known */
  notice(room: number, now: Micros): void {
    this.#minutes.notice(room, now);
    this.#hours.notice(room, now);
  }

  /** Null where the rule was not judged in that time. */
  lastHour(now: Micros): number | null {
    return this.#minutes.least(now);
  }

  lastDay(now: Micros): number | null {
    return this.#hours.least(now);
  }
}

/**
 * The lowest room that each rule had in the present minute, side by side: it is asked for all of them
 * once a second, and what is not lower changes nothing.
 */
export class MinuteLows {
  readonly #lows: Float64Array;
  #end: Micros = 0;

  constructor(count: number) {
    this.#lows = new Float64Array(count).fill(Infinity);
  }

  /** Begins the minute of this instant. */
  reach(now: Micros): void {
    if (now < this.#end) return;
    this.#end = (Math.floor(now / MINUTE) + 1) * MINUTE;
    this.#lows.fill(Infinity);
  }

  /** Whether the room of rule `i` is the lowest of this minute; false where it has none, NaN. */
  isLowest(i: number, room: number): boolean {
    if (!(room < this.#lows[i])) return false;
    this.#lows[i] = room;
    return true;
  }
}

/** The lowest number of each of the last `count` parts of time. */
class Lows {
  readonly #lows: Float64Array;
  /** Which part of all time each place holds. */
  readonly #parts: Float64Array;

  constructor(readonly length: Micros, readonly count: number) {
    this.#lows = new Float64Array(count + 1);
    this.#parts = new Float64Array(count + 1).fill(-1);
  }

  notice(value: number, now: Micros): void {
    const part = Math.floor(now / this.length);
    const place = part % this.#parts.length;
    if (this.#parts[place] !== part) {
      this.#parts[place] = part;
      this.#lows[place] = value;
    } else if (value < this.#lows[place]) this.#lows[place] = value;
  }

  least(now: Micros): number | null {
    const oldest = Math.floor(now / this.length) - this.count;
    let least = Infinity;
    this.#parts.forEach((part, place) => {
      if (part >= oldest) least = Math.min(least, this.#lows[place]);
    });
    return least === Infinity ? null : least;
  }
}
