import type { Boat } from "../../boat/boat.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import type { Condition, Rule, Test } from "../rules/rule.ts";
import { ConditionProgram, Op, type ProgramStep } from "./condition-program.ts";
import { CurveTable } from "./curve-table.ts";
import type { HeldStep, Instance, TiedCurve, TiedLimit, TiedTest } from "./instance.ts";
import { LowestOf } from "./lowest-of.ts";
import { Resolver } from "./resolver.ts";
import { unfold, type Unfolded } from "./unfold.ts";

export interface Compiled {
  /** In the order of (tag, subject); one is replaced when it is tied again. */
  readonly instances: Instance[];
  readonly program: ConditionProgram;
}

/** Ties every rule to every subject that it is about, as the boat is known now. */
export function compile(
  rules: readonly Rule[],
  table: SignalTable,
  boat: Boat,
  remembered: readonly { readonly tag: string; readonly subject: string }[],
): Compiled {
  const steps: ProgramStep[] = [];
  const instances = unfold(rules, table, boat, remembered)
    .map((unfolded) => tie(unfolded, new Resolver(unfolded, table, boat), new StepList(0, steps)));
  return { instances, program: new ConditionProgram(steps, table) };
}

/**
 * Ties one rule and subject again, because a signal came that it waited for. The steps of its
 * condition are as many as before and lie at the same places.
 */
export function tieAgain(
  compiled: Compiled,
  i: number,
  table: SignalTable,
  boat: Boat,
): void {
  const before = compiled.instances[i];
  const steps = new StepList(Math.max(0, before.watchStep), []);
  const instance = tie(before, new Resolver(before, table, boat), steps);
  keepWindow(instance, before);
  compiled.instances[i] = instance;
  steps.list.forEach((step, place) => compiled.program.put(steps.first + place, step));
}

/** Lets an instance go on with the values that the same one had gathered before. */
export function keepWindow({ test }: Instance, before: Instance): void {
  const window = "curve" in test ? test.curve?.window : null;
  const earlier = "curve" in before.test ? before.test.curve?.window : null;
  if (window && earlier) window.adopt(earlier);
}

function tie(unfolded: Unfolded, resolver: Resolver, steps: StepList): Instance {
  const { rule, subject, described } = unfolded;
  const { test } = rule;
  const judged = test.kind === "bit-pattern" ? test.bits[0].signal : test.signal;
  const signal = resolver.signal(judged);
  const tied = tieTest(test, signal, resolver);
  const watch = new ConditionTie(resolver, steps, test.kind === "not-heard");
  return {
    rule,
    subject,
    described,
    signal,
    signalName: resolver.nameOf(judged),
    test: tied,
    watchStep: rule.watchWhile === null ? -1 : watch.add(rule.watchWhile),
    held: watch.held,
    watchSignals: watch.signals,
    missing: [...new Set(resolver.missing)],
    reason: resolver.reason,
  };
}

function tieTest(test: Test, signal: number, resolver: Resolver): TiedTest {
  switch (test.kind) {
    case "reads":
      return { kind: "reads", codes: resolver.codes(test.oneOf, signal) };
    case "bit-pattern":
      return {
        kind: "bit-pattern",
        signals: test.bits.map((bit) => resolver.signal(bit.signal)),
        on: test.bits.map((bit) => bit.on),
      };
    case "not-heard":
      return { kind: "not-heard" };
    case "low":
    case "high":
      return tieLimit(test, signal, resolver);
  }
}

type Limit = Extract<Test, { kind: "low" | "high" }>;

function tieLimit(
  test: Limit,
  signal: number,
  resolver: Resolver,
): TiedLimit {
  const { setpoint } = test;
  let limit = NaN;
  let curve: TiedCurve | null = null;
  switch (setpoint.kind) {
    case "fixed":
      limit = resolver.amount(setpoint.amount, signal);
      break;
    case "share-of":
      limit = setpoint.share * resolver.number(setpoint.number, test.signal);
      break;
    case "per-nominal":
      limit = resolver.amount(setpoint.amount, signal) *
        (resolver.number("nominal", test.signal) / setpoint.per.value);
      break;
    case "curve": {
      const along = resolver.signal(setpoint.along);
      curve = {
        table: new CurveTable(setpoint.points.map((point) => ({
          at: resolver.amount(point.at, along),
          limit: resolver.amount(point.limit, signal),
        }))),
        along,
        window: setpoint.lowestOf > 0 ? new LowestOf(setpoint.lowestOf) : null,
      };
    }
  }
  return {
    kind: test.kind,
    limit,
    curve,
    ...tieDeadband(test, signal, resolver),
    hair: resolver.hair(signal),
  };
}

function tieDeadband(
  { deadband, signal: reference }: Limit,
  signal: number,
  resolver: Resolver,
): { deadband: number; deadbandShare: number } {
  switch (deadband.kind) {
    case "fixed":
      return { deadband: resolver.difference(deadband.amount, signal), deadbandShare: 0 };
    case "per-nominal": {
      const scale = resolver.number("nominal", reference) / deadband.per.value;
      return {
        deadband: resolver.difference(deadband.amount, signal) * scale,
        deadbandShare: 0,
      };
    }
    case "share": {
      const inPoints = signal >= 0 && resolver.table.facts[signal].unit === "%";
      return inPoints
        ? { deadband: deadband.percent, deadbandShare: 0 }
        : { deadband: 0, deadbandShare: deadband.percent / 100 };
    }
  }
}

/** Steps that lie in the program from `first` on. */
class StepList {
  constructor(readonly first: number, readonly list: ProgramStep[]) {}

  /** Where the next step will lie. */
  get next(): number {
    return this.first + this.list.length;
  }
}

/** Flattens conditions into steps, each before its parts. */
class ConditionTie {
  readonly held: HeldStep[] = [];
  readonly signals: number[] = [];

  constructor(
    readonly resolver: Resolver,
    readonly steps: StepList,
    /** The condition of a `not-heard` rule is about what is absent: it goes by what was last known. */
    readonly lastKnown: boolean,
  ) {}

  add(condition: Condition): number {
    const at = this.steps.next;
    switch (condition.kind) {
      case "all":
      case "any":
        return this.#group(Op[condition.kind], condition.of);
      case "not":
        return this.#group(Op.not, [condition.of]);
      case "held":
        this.#group(Op.held, [condition.of]);
        this.held.push({ step: at, length: condition.length });
        return at;
      case "over":
      case "under":
      case "equals": {
        const amount = condition.kind === "equals" ? condition.amount : condition.limit;
        const signal = this.resolver.signal(condition.signal);
        const limit = this.resolver.amount(amount, signal);
        return this.#comparison(Op[condition.kind], signal, limit, []);
      }
      case "one-of": {
        const signal = this.resolver.signal(condition.signal);
        return this.#comparison(Op.oneOf, signal, 0, this.resolver.codes(condition.words, signal));
      }
    }
  }

  #group(op: Op, parts: readonly Condition[]): number {
    const at = this.steps.next;
    const step = newStep(op);
    this.steps.list.push(step);
    for (const part of parts) this.add(part);
    step.end = this.steps.next;
    return at;
  }

  #comparison(op: Op, signal: number, limit: number, codes: readonly number[]): number {
    if (signal >= 0) this.signals.push(signal);
    const at = this.steps.next;
    const { lastKnown } = this;
    const hair = this.resolver.hair(signal);
    this.steps.list.push({ ...newStep(op), end: at + 1, signal, limit, hair, codes, lastKnown });
    return at;
  }
}

function newStep(op: Op): ProgramStep {
  return { op, end: 0, signal: -1, limit: 0, hair: 0, codes: [], lastKnown: false };
}
