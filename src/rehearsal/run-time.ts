import type { AlarmChange } from "../alarms/change.ts";
import type { Timeline } from "../ground/timeline.ts";
import type { Micros } from "../ground/time.ts";

/**
 * Run time: what the wall's clock would say if nobody had set it since the run began. Where the
 * recorder's clock was set, no time has passed, and a time on the wall may come twice.
 */
export class RunTime {
  /** When the wall's clock was set, in order of time. */
  readonly settings: ClockSetting[] = [];
  #before: Micros = 0;

  constructor(readonly timeline: Timeline) {}

  /** Changes that came since it was last asked, with their times by the run. */
  of(changes: readonly AlarmChange[]): readonly AlarmChange[] {
    const { now } = this.timeline;
    const ahead = this.settings.at(-1)?.ahead ?? 0;
    const aheadNow = now === 0 ? 0 : this.timeline.wallOf(now) - now;
    if (aheadNow !== ahead) this.settings.push({ at: now, ahead: aheadNow });
    const before = this.#before;
    this.#before = now;
    if (aheadNow === 0 && ahead === 0) return changes;
    return changes.map((change) => {
      const unset = change.time - ahead;
      const isBefore = unset >= before && unset <= now;
      return { ...change, time: isBefore ? unset : change.time - aheadNow };
    });
  }
}

/** The clock on the wall was set. */
export interface ClockSetting {
  /** Run time. */
  readonly at: Micros;
  /** By how much the wall's clock is ahead of run time from then on; negative: it is behind. */
  readonly ahead: Micros;
}

/**
 * When the clock on the wall said this; of what it never said the nearest, of twice the first.
 * @param begins run time before which nothing is meant
 */
export function runTimeOf(
  wall: Micros,
  settings: readonly ClockSetting[],
  begins: Micros,
): Micros {
  if (settings.length === 0) return wall;
  const stretches = [{ at: Math.min(begins, settings[0].at), ahead: 0 }, ...settings];
  const candidates = stretches.map(({ at, ahead }, i) => {
    const until = stretches[i + 1]?.at ?? Infinity;
    const time = Math.min(Math.max(wall - ahead, at), until);
    return { time, off: Math.abs(wall - ahead - time) };
  });
  return candidates.reduce((best, one) => one.off < best.off ? one : best).time;
}

/** What the clock on the wall said then. */
export function wallTimeOf(time: Micros, settings: readonly ClockSetting[]): Micros {
  return time + (settings.findLast(({ at }) => at <= time)?.ahead ?? 0);
}
