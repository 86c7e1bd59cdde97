import type { Acknowledge } from "../../alarms/answer.ts";
import type { AlarmChange } from "../../alarms/change.ts";
import type { Micros } from "../../ground/time.ts";
import type { Answering } from "../../watch.ts";

/** What a person answered, as it was noted down. */
export interface RecordedAnswer {
  readonly at: Micros;
  readonly tag: string;
  readonly subject: string;
  readonly who: string;
}

/**
 * People who answer as they once did (`--answer FILE`): each answer is to the raising that is there
 * at its time, and is in vain where nothing is.
 */
export class RecordedAnswers implements Answering {
  /** In order of time. */
  readonly #answers: readonly RecordedAnswer[];
  /** By tag and subject: the raising that was last told of. */
  readonly #raisings = new Map<string, number>();
  #next = 0;

  constructor(answers: readonly RecordedAnswer[]) {
    this.#answers = answers.toSorted((a, b) => a.at - b.at);
  }

  get nextDue(): Micros {
    return this.#answers[this.#next]?.at ?? Infinity;
  }

  notice({ tag, subject, occurrence }: AlarmChange): void {
    this.#raisings.set(`${tag}/${subject}`, occurrence);
  }

  take(): Acknowledge {
    const answer = this.#answers[this.#next++];
    if (answer === undefined) throw new RangeError("no answer is waiting");
    const { tag, subject, who } = answer;
    const occurrence = this.#raisings.get(`${tag}/${subject}`) ?? 0;
    return { kind: "acknowledge", tag, subject, occurrence, who };
  }
}
