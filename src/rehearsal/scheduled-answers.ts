import type { AlarmRecord } from "../alarms/alarm-record.ts";
import type { AlarmStateName } from "../alarms/words.ts";
import type { Acknowledge, AlarmChange } from "../alarms/change.ts";
import type { Micros } from "../ground/time.ts";
import type { Answering } from "../watch.ts";

type Raising = Pick<AlarmChange, "tag" | "subject" | "occurrence">;

const ASKING: readonly AlarmStateName[] = [
  "unacknowledged",
  "returned-unacknowledged",
  "latched-unacknowledged",
];

/** Who answers by schedule: nobody of flesh and blood. */
export const REHEARSAL = "rehearsal";

/** A person who answers every alarm the same time after it was raised (`--answer 'after 60 s'`). */
export class ScheduledAnswers implements Answering {
  /** In order of due time, since the wait is always the same. */
  readonly #waiting: { readonly due: Micros; readonly answer: Acknowledge }[] = [];

  /**
   * @param remembered what the run before has left: what nobody had answered is answered as if it
   * had been raised at `begins`
   */
  constructor(readonly wait: Micros, begins: Micros = 0, remembered: readonly AlarmRecord[] = []) {
    for (const one of remembered) if (ASKING.includes(one.state)) this.#wait(one, begins);
  }

  get nextDue(): Micros {
    return this.#waiting.length === 0 ? Infinity : this.#waiting[0].due;
  }

  notice(change: AlarmChange, now: Micros): void {
    if (change.to === "unacknowledged") this.#wait(change, now);
  }

  #wait({ tag, subject, occurrence }: Raising, now: Micros): void {
    this.#waiting.push({
      due: now + this.wait,
      answer: { kind: "acknowledge", tag, subject, occurrence, who: REHEARSAL },
    });
  }

  take(): Acknowledge {
    const first = this.#waiting.shift();
    if (first === undefined) throw new RangeError("no answer is waiting");
    return first.answer;
  }
}
