import type { Micros } from "../ground/time.ts";
import { type AlarmState, isPresent } from "./life-cycle/alarm-life.ts";
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

/** Remembers how near an alarm came. Told of each judgement, which costs no allocation. */
export class NearMisses {
  #active: Micros | null = null;
  #unwatched: Micros | null = null;
  #suppressed: Micros | null = null;
  #covered: Micros | null = null;
  #longest: Micros = 0;
  #brokenOff: Micros | null = null;
  /** When the on-delay that runs began. */
  #since: Micros | null = null;

  get miss(): NearMiss {
    return {
      active: this.#active,
      unwatched: this.#unwatched,
      suppressed: this.#suppressed,
      covered: this.#covered,
      longest: this.#longest,
      brokenOff: this.#brokenOff,
    };
  }

  /** @param after the state after the judgement */
  notice(judged: Judged, after: AlarmState, onDelay: Micros, now: Micros, wall: Micros): void {
    if (judged.found === Found.active) {
      this.#active = wall;
      if (judged.watching !== Kleene.yes) this.#unwatched = wall;
      if (judged.suppressed) this.#suppressed = wall;
      if (judged.covered) this.#covered = wall;
    }
    if (isPresent(after)) {
      this.#since = null;
    } else if (after.raising.kind === "running") {
      this.#since = after.raising.due - onDelay;
    } else if (after.raising.kind !== "frozen" && this.#since !== null) {
      const lasted = now - this.#since;
      this.#since = null;
      if (lasted <= this.#longest) return;
      this.#longest = lasted;
      this.#brokenOff = wall;
    }
  }
}
