import type { AlarmChange } from "../../../alarms/change.ts";
import type { Clock } from "../../../ground/clock.ts";
import { isoTime, type Micros, MINUTE } from "../../../ground/time.ts";
import type { Link } from "./read-messages.ts";

export const NOT_HEARD = "boat-not-heard";

/** Of a boat that has not said its own. */
const USUAL_INTERVAL: Micros = 5 * MINUTE;

/** What is remembered of the alarm over a restart. */
export interface NotHeardState {
  readonly name: "normal" | "unacknowledged" | "acknowledged" | "returned-unacknowledged";
  readonly occurrence: number;
}

/**
 * Whether a boat is heard, and the alarm *boat not heard*: raised when its `link` was not repeated
 * for two of the boat's own intervals. A boat that has said "stopped" is not waited for.
 */
export class BoatHeard {
  /** How often the boat means to speak. */
  interval: Micros = USUAL_INTERVAL;
  /** Steady time of the last word, as far as it is known. */
  #heardAt: Micros;
  #isStopped = false;
  /** Wall time of the last word; null where there was none. */
  lastWord: Micros | null = null;

  constructor(readonly boat: string, readonly clock: Clock, public state: NotHeardState) {
    this.#heardAt = clock.steady();
  }

  /** @param retained it lay on the broker: said at its own time, not now */
  note(link: Link, retained: boolean): void {
    this.interval = link.interval;
    this.#isStopped = link.state === "stopped";
    if (link.time === null) return;
    const age = retained ? Math.max(0, this.clock.wall() - link.time) : 0;
    this.#heardAt = this.clock.steady() - age;
    this.lastWord = this.clock.wall() - age;
  }

  get isHeard(): boolean {
    return this.#isStopped || this.clock.steady() - this.#heardAt <= 2 * this.interval;
  }

  /** The change of the alarm that is due, if any; `state` has it already. */
  judge(): AlarmChange | undefined {
    const { name, occurrence } = this.state;
    const isRaised = name === "unacknowledged" || name === "acknowledged";
    if (this.isHeard === !isRaised) return undefined;
    if (!isRaised) {
      const since = this.lastWord === null ? "since the start" : `since ${said(this.lastWord)}`;
      return this.#become("unacknowledged", occurrence + 1, `No word from the boat ${since}.`, "");
    }
    const next = name === "acknowledged" ? "normal" : "returned-unacknowledged";
    return this.#become(next, occurrence, "The boat is heard again.", "");
  }

  /** A person's answer; undefined where it fits no raising. */
  answer(occurrence: number, who: string): AlarmChange | undefined {
    if (occurrence !== this.state.occurrence) return undefined;
    if (this.state.name === "unacknowledged") {
      return this.#become("acknowledged", occurrence, `Answered by ${who}.`, who);
    }
    if (this.state.name === "returned-unacknowledged") {
      return this.#become("normal", occurrence, `Answered by ${who}.`, who);
    }
    return undefined;
  }

  #become(
    to: NotHeardState["name"],
    occurrence: number,
    why: string,
    by: string,
  ): AlarmChange {
    const from = this.state.name;
    this.state = { name: to, occurrence };
    return {
      tag: NOT_HEARD,
      subject: this.boat,
      occurrence,
      from,
      to,
      hold: "none",
      priority: "alarm",
      signal: "",
      value: null,
      unit: "",
      setpoint: null,
      time: this.clock.wall(),
      why,
      by,
    };
  }
}

function said(time: Micros): string {
  return `${isoTime(time, 3).slice(0, 16).replace("T", " ")} UTC`;
}
