import type { Acknowledge, AlarmChange } from "../alarms/change.ts";
import type { Micros } from "../ground/time.ts";
import type { Answering } from "../watch.ts";

/** Who answers by schedule: nobody of flesh and blood. */
export const REHEARSAL = "rehearsal";

/** A person who answers every alarm the same time after it was raised (`--answer 'after 60 s'`). */
export class ScheduledAnswers implements Answering {
  /** In order of due time, since the wait is always the same. */
  readonly #waiting: { readonly due: Micros; readonly answer: Acknowledge }[] = [];

  constructor(readonly wait: Micros) {}

  get nextDue(): Micros {
    return this.#waiting.length === 0 ? Infinity : this.#waiting[0].due;
  }

  notice(change: AlarmChange, now: Micros): void {
    if (change.to !== "unacknowledged") return;
    this.#waiting.push({
      due: now + this.wait,
      answer: {
        kind: "acknowledge",
        tag: change.tag,
        subject: change.subject,
        occurrence: change.occurrence,
        who: REHEARSAL,
      },
    });
  }

  take(): Acknowledge {
    const first = this.#waiting.shift();
    if (first === undefined) throw new RangeError("no answer is waiting");
    return first.answer;
  }
}
