import type { Answer } from "../../alarms/answer.ts";
import type { Micros } from "../../ground/time.ts";
import {
  afterSaying,
  type BoatSaying,
  type BoatStateRecord,
  NEVER_SET,
} from "../../boat/boat-state.ts";
import type { Answering, ConditionSaid } from "../../watch.ts";

/** An answer of which the raising that it is to is not known yet. */
type Unaddressed<A> = A extends Answer ? Omit<A, "occurrence"> : never;

/** What a person answered, as it was noted down. */
export interface RecordedAnswer {
  readonly at: Micros;
  readonly answer: Unaddressed<Answer>;
}

/** What a person said of the boat: who is aboard. */
export interface RecordedCondition {
  readonly at: Micros;
  readonly saying: BoatSaying;
}

/** Whatever people did, as it was noted down. */
export type RecordedDeed = RecordedAnswer | RecordedCondition;

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
  readonly #deeds: readonly RecordedDeed[];
  #next = 0;

  /** @param begins the run's first instant: what was answered before is not about it */
  constructor(deeds: readonly RecordedDeed[], begins: Micros) {
    this.#deeds = deeds.filter(({ at }) => at >= begins).sort((a, b) => a.at - b.at);
  }

  get nextDue(): Micros {
    return this.#deeds[this.#next]?.at ?? Infinity;
  }

  /** People did what they did, whatever is told here. */
  notice(): void {}

  take(occurrenceOf: (tag: string, subject: string) => number): Answer | ConditionSaid {
    const next = this.#deeds[this.#next++];
    if (next === undefined) throw new RangeError("no answer is waiting");
    if ("saying" in next) return { kind: "condition", saying: next.saying };
    const { tag, subject } = next.answer;
    return { ...next.answer, occurrence: occurrenceOf(tag, subject) };
  }

  refused(why: string): void {
    const refused = this.#deeds[this.#next - 1];
    if ("answer" in refused) this.inVain.push({ ...refused, why });
  }
}

/** What had been said of the boat when a run begins; undefined where nothing had. */
export function boatStateAt(
  deeds: readonly RecordedDeed[],
  begins: Micros,
): BoatStateRecord | undefined {
  const said = deeds.flatMap((one) => "saying" in one && one.at < begins ? [one] : [])
    .sort((a, b) => a.at - b.at);
  if (said.length === 0) return undefined;
  let state = NEVER_SET;
  for (const { saying } of said) state = afterSaying(state, saying);
  return state;
}
