import type { Answer } from "../../alarms/answer.ts";
import type { AlarmChange } from "../../alarms/change.ts";
import type { Micros } from "../../ground/time.ts";
import type { Answering } from "../../watch.ts";

/** An answer of which the raising that it is to is not known yet. */
type Unaddressed<A> = A extends Answer ? Omit<A, "occurrence"> : never;

/** What a person answered, as it was noted down. */
export interface RecordedAnswer {
  readonly at: Micros;
  readonly answer: Unaddressed<Answer>;
}

/** An answer that changed nothing. */
export interface VainAnswer extends RecordedAnswer {
  /** A sentence. */
  readonly why: string;
}

/**
 * People who answer as they once did (`--answer FILE`): each answer is to the raising that is there
 * at its time, and is in vain where nothing is.
 */
export class RecordedAnswers implements Answering {
  readonly inVain: VainAnswer[] = [];
  /** In order of time. */
  readonly #answers: readonly RecordedAnswer[];
  /** By tag and subject: the raising that was last told of. */
  readonly #raisings = new Map<string, number>();
  #next = 0;

  /** @param begins the run's first instant: what was answered before is not about it */
  constructor(answers: readonly RecordedAnswer[], begins: Micros) {
    this.#answers = answers.filter(({ at }) => at >= begins).sort((a, b) => a.at - b.at);
  }

  get nextDue(): Micros {
    return this.#answers[this.#next]?.at ?? Infinity;
  }

  notice({ tag, subject, occurrence }: AlarmChange): void {
    this.#raisings.set(`${tag}/${subject}`, occurrence);
  }

  take(): Answer {
    const next = this.#answers[this.#next++];
    if (next === undefined) throw new RangeError("no answer is waiting");
    const { tag, subject } = next.answer;
    return { ...next.answer, occurrence: this.#raisings.get(`${tag}/${subject}`) ?? 0 };
  }

  refused(why: string): void {
    this.inVain.push({ ...this.#answers[this.#next - 1], why });
  }
}
