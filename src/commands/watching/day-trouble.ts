import { DAY, type Micros, MINUTE } from "../../ground/time.ts";
import { areRulesRefused, HEARD_FOR, keyOf } from "../../outputs/phones/words/daily-line.ts";
import type { Watch } from "../../watch.ts";

const LOOK_EVERY: Micros = MINUTE;

/**
 * What was not well in the last day and may be by now: at an instant alone nobody sees that. It is
 * looked at once a minute; an alarm that comes and goes in between has its time of raising.
 */
export class DayTrouble {
  /** Steady time of the next look. */
  #due: Micros = 0;
  /** Steady times. */
  readonly #stood = new Map<string, Micros>();
  #troubled: Micros | null = null;

  constructor(readonly watch: Watch) {}

  /** Cheap to ask. @param now steady time */
  look(now: Micros): void {
    if (now < this.#due) return;
    this.#due = now + LOOK_EVERY;
    const { alarms, lastFrame, timeline } = this.watch;
    const statuses = alarms.statuses();
    for (const status of statuses) {
      if (status.state !== "normal" && status.hold === "none") this.#stood.set(keyOf(status), now);
    }
    for (const [key, time] of this.#stood) if (now - time > DAY) this.#stood.delete(key);
    const isSilent = lastFrame === 0 || timeline.now - lastFrame > HEARD_FOR;
    if (isSilent || alarms.unjudged().length > 0 || statuses.some(areRulesRefused)) {
      this.#troubled = now;
    }
  }

  /** As wall times, by what the wall says now. */
  facts(steady: Micros, wall: Micros): {
    readonly stood: ReadonlyMap<string, Micros>;
    readonly troubled: Micros | null;
  } {
    const wallOf = (time: Micros) => wall - (steady - time);
    return {
      stood: new Map([...this.#stood].map(([key, time]) => [key, wallOf(time)])),
      troubled: this.#troubled === null ? null : wallOf(this.#troubled),
    };
  }
}
