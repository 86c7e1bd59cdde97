import { type Micros, MINUTE, SECOND } from "../ground/time.ts";
import type { SignalTable } from "./signal-table.ts";

/** What one signal read of late, once a second. */
export interface RecentCourse {
  /** Steady times, rising. */
  readonly times: readonly Micros[];
  /** Beside each; NaN where it was not known, or nobody looked. */
  readonly values: readonly number[];
}

const EVERY: Micros = SECOND;
const SPAN: Micros = 10 * MINUTE;
const SLOTS = SPAN / EVERY;

/**
 * The last ten minutes of some signals, for a picture of what led to an alarm. The history by the
 * minute is too coarse for that, and comes too late.
 *
 * Order of calls: `look` once a turn; it does nothing until the next second.
 */
export class RecentValues {
  /** By signal: a ring of values, a slot a second. */
  readonly #rings = new Map<number, Float64Array>();
  /** Seconds since the epoch of steady time. */
  #last = -1;

  /** @param isWanted whether a signal's course may be asked for */
  constructor(readonly table: SignalTable, readonly isWanted: (signal: number) => boolean) {}

  look(now: Micros): void {
    const second = Math.floor(now / EVERY);
    if (second <= this.#last) return;
    const missed = this.#last < 0 ? 0 : Math.min(second - this.#last - 1, SLOTS);
    for (let signal = 0; signal < this.table.count; signal++) {
      const ring = this.#rings.get(signal) ?? this.#begin(signal);
      if (ring === undefined) continue;
      for (let i = 1; i <= missed; i++) ring[(second - i) % SLOTS] = NaN;
      ring[second % SLOTS] = this.table.values[signal];
    }
    this.#last = second;
  }

  /** Up to the last look; undefined where nobody wanted it. */
  of(name: string): RecentCourse | undefined {
    const ring = this.#rings.get(this.table.find(name));
    if (ring === undefined) return undefined;
    const seconds = Array.from({ length: SLOTS }, (_, i) => this.#last - SLOTS + 1 + i)
      .filter((second) => second >= 0);
    return {
      times: seconds.map((second) => second * EVERY),
      values: seconds.map((second) => ring[second % SLOTS]),
    };
  }

  #begin(signal: number): Float64Array | undefined {
    if (!this.isWanted(signal)) return undefined;
    const ring = new Float64Array(SLOTS).fill(NaN);
    this.#rings.set(signal, ring);
    return ring;
  }
}
