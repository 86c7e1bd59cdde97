import type { Condition, SignalReference } from "../rules/rule-parts.ts";
import { Op, type ProgramStep } from "./condition-program.ts";
import type { HeldStep } from "./instance.ts";
import type { Resolver, Twin } from "./resolver.ts";

/** Steps that lie in the program from `first` on. */
export class StepList {
  constructor(readonly first: number, readonly list: ProgramStep[]) {}

  /** Where the next step will lie. */
  get next(): number {
    return this.first + this.list.length;
  }
}

/** Flattens conditions into steps, each before its parts. */
export class ConditionTie {
  readonly signals: number[] = [];

  constructor(
    readonly resolver: Resolver,
    readonly steps: StepList,
    /** The `held` steps of all conditions of the rule, inner ones first. */
    readonly held: HeldStep[],
    /** The condition of a `not-heard` rule is about what is absent: it goes by what was last known. */
    readonly lastKnown: boolean,
  ) {}

  /** The place of the condition's first step. */
  add(condition: Condition): number {
    switch (condition.kind) {
      case "all":
      case "any":
        return this.#group(Op[condition.kind], condition.of);
      case "not":
        return this.#group(Op.not, [condition.of]);
      case "held": {
        const at = this.#group(Op.held, [condition.of]);
        this.held.push({ step: at, length: condition.length });
        return at;
      }
      default:
        return this.#isOfBoth(condition) ? this.#ofBoth(condition) : this.#comparison(condition, 0);
    }
  }

  #group(op: Op, parts: readonly Condition[]): number {
    return this.#whole(op, () => {
      for (const part of parts) this.add(part);
    });
  }

  #isOfBoth(comparison: Comparison): boolean {
    return comparison.kind !== "within" && this.resolver.isOfBoth(comparison.signal);
  }

  /** What is said of a signal of twins must hold for each of them. */
  #ofBoth(comparison: Comparison): number {
    return this.#whole(Op.all, () => {
      this.#comparison(comparison, 0);
      this.#comparison(comparison, 1);
    });
  }

  #whole(op: Op, addParts: () => void): number {
    const at = this.steps.next;
    const step = { ...NOTHING, op };
    this.steps.list.push(step);
    addParts();
    step.end = this.steps.next;
    return at;
  }

  #comparison(comparison: Comparison, twin: Twin): number {
    const { resolver, lastKnown } = this;
    const signal = this.follow(comparison.signal, twin);
    const hair = resolver.hair(signal);
    const base = { ...NOTHING, op: OPS[comparison.kind], signal, other: signal, hair, lastKnown };
    const at = this.steps.next;
    this.steps.list.push({ ...base, ...this.#against(comparison, signal, twin), end: at + 1 });
    return at;
  }

  /** What the signal is compared with. */
  #against(comparison: Comparison, signal: number, twin: Twin): Partial<ProgramStep> {
    const { resolver } = this;
    switch (comparison.kind) {
      case "over":
      case "under":
        return { limit: resolver.limit(comparison.limit, signal, comparison.signal, twin) };
      case "equals":
        return { limit: resolver.amount(comparison.amount, signal) };
      case "one-of":
        return { codes: resolver.codes(comparison.words, signal) };
      case "within": {
        const { against, apart, signal: reference } = comparison;
        const { amount, share } = resolver.apart(apart, signal, reference);
        return { other: this.follow(against ?? reference, 1), limit: amount, share };
      }
    }
  }

  /** The number of a signal that is followed from now on; -1 while nothing sends it. */
  follow(reference: SignalReference, twin: Twin): number {
    const signal = this.resolver.signal(reference, twin);
    if (signal >= 0) this.signals.push(signal);
    return signal;
  }
}

type Comparison = Extract<Condition, { readonly signal: SignalReference }>;

const OPS = {
  "over": Op.over,
  "under": Op.under,
  "equals": Op.equals,
  "one-of": Op.oneOf,
  "within": Op.within,
} as const;

const NOTHING: ProgramStep = {
  op: Op.all,
  end: 0,
  signal: -1,
  other: -1,
  limit: 0,
  share: 0,
  hair: 0,
  codes: [],
  lastKnown: false,
};
