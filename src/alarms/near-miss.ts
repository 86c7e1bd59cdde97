import type { Micros } from "../ground/time.ts";
import type { AlarmState } from "./life-cycle/alarm-life.ts";
import { Found, Kleene } from "./life-cycle/kleene.ts";
import type { Judged } from "./life-cycle/life-cycle.ts";

/** When an alarm was nearest to being raised, and what kept it: wall times, null for never. */
export interface NearMiss {
  /** Last found past its limit, whatever kept it from being raised. */
  readonly active: Micros | null;
  /** Past its limit and not watching, suppressed, covered by another. */
  readonly unwatched: Micros | null;
  readonly suppressed: Micros | null;
  readonly covered: Micros | null;
  /** The longest that its on-delay ran without reaching its end, and when that broke off. */
  readonly longest: Micros;
  readonly brokenOff: Micros | null;
}

const NOTHING: NearMiss = {
  active: null,
  unwatched: null,
  suppressed: null,
  covered: null,
  longest: 0,
  brokenOff: null,
};

/** Remembers how near an alarm came. Told of each judgement of it, before and after its step. */
export class NearMisses {
  miss: NearMiss = NOTHING;
  #since: Micros | null = null;

  notice(judged: Judged, after: AlarmState, onDelay: Micros, now: Micros, wall: Micros): void {
    if (judged.found === Found.active) this.#noticeActive(judged, wall);
    const raising = "raising" in after ? after.raising : null;
    if (raising?.kind === "running") {
      this.#since = raising.due - onDelay;
      return;
    }
    if (this.#since === null || raising === null || raising.kind === "frozen") {
      if (raising === null) this.#since = null;
      return;
    }
    const lasted = now - this.#since;
    this.#since = null;
    if (lasted <= this.miss.longest) return;
    this.miss = { ...this.miss, longest: lasted, brokenOff: wall };
  }

  #noticeActive({ watching, suppressed, covered }: Judged, wall: Micros): void {
    this.miss = { ...this.miss, active: wall };
    if (watching !== Kleene.yes) this.miss = { ...this.miss, unwatched: wall };
    if (suppressed) this.miss = { ...this.miss, suppressed: wall };
    if (covered) this.miss = { ...this.miss, covered: wall };
  }
}
