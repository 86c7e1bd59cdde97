import type { Micros } from "../../ground/time.ts";
import type { Expectations } from "../expectations/expectations.ts";
import { instantOf, type TimeBase } from "../expectations/expected-time.ts";
import { marksReached } from "../expectations/marks-reached.ts";
import { isFalseAlarm, outsideBy, verdictOf } from "../expectations/verdict.ts";
import { type Occurrence, occurrencesOf } from "../occurrences.ts";
import type { RunPart } from "../run.ts";
import type { RunRecord } from "../run-record.ts";
import type { Sweep, Variant } from "./sweep.ts";

/** What one value of a rule did in all recordings. */
export interface Tally {
  readonly alarms: number;
  /** Outside what was expected, in recordings with expectations. */
  readonly wrong: number;
  /** Expected, and not raised in time. */
  readonly missed: number;
  /** Of both: alarms that came too early or for nothing. */
  readonly tooMuch: number;
  /** Of both: alarms that came too late or not at all. */
  readonly tooLittle: number;
  /** From the beginning of its window to each alarm that came in time. */
  readonly delays: readonly Micros[];
}

type Writable<T> = { -readonly [Part in keyof T]: T[Part] };

/** Adds up what each variant of a sweep does, run by run. */
export class Tallies {
  readonly #tallies: (Writable<Tally> & { readonly delays: Micros[] })[];
  /** Recordings that say what is right. */
  judged = 0;
  /** Alarms of the rule that they expect. */
  expected = 0;
  /** Why the rule could not be judged when it was last so; null once it was judged. */
  unjudged: string | null = "";

  constructor(readonly sweep: Sweep) {
    this.#tallies = sweep.variants.map(() => ({
      alarms: 0,
      wrong: 0,
      missed: 0,
      tooMuch: 0,
      tooLittle: 0,
      delays: [],
    }));
  }

  /** By variant. */
  get results(): readonly Tally[] {
    return this.#tallies;
  }

  take(run: RunRecord, expectationsOf: (part: RunPart) => Expectations | null): void {
    const standings = run.rules.filter(({ tag }) => tag === this.sweep.rule.tag);
    if (standings.some(({ standing }) => standing === "judged")) this.unjudged = null;
    if (this.unjudged !== null) this.unjudged = standings[0]?.reason ?? "";
    for (const [place, part] of run.parts.entries()) {
      const expectations = expectationsOf(part);
      const from = place === 0 ? -Infinity : part.begins;
      const to = run.parts[place + 1]?.begins ?? Infinity;
      if (expectations !== null) this.judged++;
      const ofRule = expectations === null ? null : onlyRaising(expectations, this.sweep.rule.tag);
      this.expected += ofRule?.alarms.length ?? 0;
      const marks = marksReached(expectations?.marks ?? [], run.hidden, part);
      const base = { begins: part.begins, marks, clockSettings: run.clockSettings };
      this.sweep.variants.forEach((variant, i) => {
        const raised = raisedBy(variant, run).filter((one) =>
          one.raised >= from && one.raised < to
        );
        this.#tallies[i].alarms += raised.length;
        if (ofRule !== null) this.#hold(i, raised, ofRule, base);
      });
    }
  }

  #hold(
    i: number,
    occurrences: readonly Occurrence[],
    expectations: Expectations,
    base: TimeBase,
  ): void {
    const tag = this.sweep.rule.tag;
    const { met, misses } = verdictOf(
      expectations,
      occurrences.map((one) => ({ ...one, tag })),
      base,
    );
    const tally = this.#tallies[i];
    for (const miss of misses) {
      if (miss.kind === "not-raised" || miss.kind === "raised-outside") tally.missed++;
      if (miss.kind === "mark-not-reached") tally.missed += miss.lines;
      if (isFalseAlarm(miss)) tally.wrong++;
      const by = miss.kind === "raised-outside" ? outsideBy(miss.occurrence.raised, miss.due) : 0;
      if (by < 0 || by === 0 && isFalseAlarm(miss)) tally.tooMuch++;
      if (by > 0 || miss.kind === "not-raised") tally.tooLittle++;
    }
    for (const { line, occurrence } of met) {
      tally.delays.push(
        occurrence.raised - (instantOf(line.raised.from, base) ?? occurrence.raised),
      );
    }
  }
}

function raisedBy({ rule }: Variant, run: RunRecord): Occurrence[] {
  return occurrencesOf(run.hidden.filter(({ tag }) => tag === rule.tag));
}

/** What is expected of one rule's raisings; another off-delay is no mistake. */
function onlyRaising(expectations: Expectations, tag: string): Expectations {
  return {
    ...expectations,
    alarms: expectations.alarms.filter((line) => line.tag === tag)
      .map((line) => ({ ...line, returned: null })),
    never: expectations.never.filter((one) => one.tag === tag),
  };
}
