import type { Boat } from "../../boat/boat.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import type { Rule } from "../rules/rule.ts";
import type { Condition } from "../rules/rule-parts.ts";
import type { Test } from "../rules/test.ts";
import { ConditionProgram, type ProgramStep } from "./condition-program.ts";
import { ConditionTie, StepList } from "./condition-tie.ts";
import type { HeldStep, Instance, TiedTest } from "./instance.ts";
import { firstSignal, judgedSignal } from "./judged-signal.ts";
import { NOT_WATCHED, tieNotWatched, wantsWatching } from "./not-watched.ts";
import { Resolver } from "./resolver.ts";
import { tieLimit } from "./tie-limit.ts";
import { tieMeasure, tieStarts, tieUsual } from "./tie-measure.ts";
import { compare, unfold, type Unfolded } from "./unfold.ts";

export interface Compiled {
  /** In the order of (tag, subject); one is replaced when it is tied again. */
  readonly instances: Instance[];
  /** The steps of all conditions. */
  readonly steps: ProgramStep[];
  readonly program: ConditionProgram;
}

/**
 * Ties every rule to every subject that it is about, as the boat is known now.
 * @param before compiled from the same rules: what is still tied rightly goes on as it is
 */
export function compile(
  rules: readonly Rule[],
  table: SignalTable,
  boat: Boat,
  remembered: readonly { readonly tag: string; readonly subject: string }[],
  before: Compiled | null = null,
): Compiled {
  const steps = [...before?.steps ?? []];
  const earlier = new Map<Rule, Map<string, Instance>>();
  for (const instance of before?.instances ?? []) {
    const known = earlier.get(instance.rule) ?? new Map<string, Instance>();
    earlier.set(instance.rule, known.set(instance.subject, instance));
  }
  const tied = unfold(rules, table, boat, remembered).map((unfolded) => {
    const known = earlier.get(unfolded.rule)?.get(unfolded.subject);
    return known !== undefined && known.missing.every((name) => table.find(name) < 0)
      ? known
      : tie(unfolded, new Resolver(unfolded, table, boat), new StepList(0, steps));
  });
  const instances = withNotWatched(tied, table, boat);
  return { instances, steps, program: new ConditionProgram(steps, table) };
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
  if (before.test.kind === "unjudged") {
    const { of } = before.test;
    compiled.instances[i] = tieNotWatched(compiled.instances[of], of, table, boat);
    return;
  }
  const steps = new StepList(before.firstStep, []);
  const instance = tie(before, new Resolver(before, table, boat), steps);
  keepGathered(instance, before);
  compiled.instances[i] = instance;
  steps.list.forEach((step, place) => {
    compiled.steps[steps.first + place] = step;
    compiled.program.put(steps.first + place, step);
  });
}

/** The built-in cautions about rules that should watch, in their places among the others. */
function withNotWatched(tied: readonly Instance[], table: SignalTable, boat: Boat): Instance[] {
  const places = [...tied.keys()].filter((place) => wantsWatching(tied[place].rule));
  const at = tied.findIndex(({ rule }) => compare(rule.tag, NOT_WATCHED) > 0);
  const first = at < 0 ? tied.length : at;
  const cautions = places.map((place) => {
    const of = place < first ? place : place + places.length;
    return tieNotWatched(tied[place], of, table, boat);
  });
  cautions.sort((a, b) => compare(a.subject, b.subject));
  return [...tied.slice(0, first), ...cautions, ...tied.slice(first)];
}

/** Lets an instance go on with what the same one had gathered before. */
export function keepGathered({ test }: Instance, { test: before }: Instance): void {
  if (test.kind === "measured" && before.kind === "measured") test.measure.adopt(before.measure);
  const window = "curve" in test ? test.curve?.window : null;
  const earlier = "curve" in before ? before.curve?.window : null;
  if (window && earlier) window.adopt(earlier);
}

function tie(unfolded: Unfolded, resolver: Resolver, steps: StepList): Instance {
  const { rule, subject, described, twins } = unfolded;
  const judged = judgedSignal(rule.test);
  const firstStep = steps.next;
  const held: HeldStep[] = [];
  const signal = resolver.signal(judged);
  const testing = new ConditionTie(resolver, steps, held, false);
  const test = tieTest(rule.test, signal, testing);
  const watching = new ConditionTie(resolver, steps, held, rule.test.kind === "not-heard");
  const watchStep = addTo(watching, rule.watchWhile);
  const suppressing = new ConditionTie(resolver, steps, held, false);
  const suppressStep = addTo(suppressing, rule.suppressedWhile);
  return {
    rule,
    subject,
    described,
    twins,
    signal,
    signalName: resolver.nameOf(judged),
    test,
    firstStep,
    endStep: steps.next,
    testSignals: testing.signals,
    watchStep,
    held,
    watchSignals: watching.signals,
    suppressStep,
    suppressSignals: suppressing.signals,
    missing: [...new Set(resolver.missing)],
    reason: resolver.reason,
  };
}

/** The first step of a condition; -1 where there is none. */
function addTo(conditions: ConditionTie, condition: Condition | null): number {
  return condition === null ? -1 : conditions.add(condition);
}

function tieTest(test: Test, signal: number, testing: ConditionTie): TiedTest {
  const { resolver } = testing;
  switch (test.kind) {
    case "reads":
      return { kind: "reads", codes: resolver.codes(test.oneOf, signal) };
    case "bit-pattern":
      return {
        kind: "bit-pattern",
        signals: test.bits.map((bit) => testing.follow(bit.signal, 0)),
        on: test.bits.map((bit) => bit.on),
      };
    case "not-heard":
      return { kind: "not-heard" };
    case "low":
    case "high":
      if (test.setpoint.kind === "usual") return tieUsual(test, test.setpoint, testing);
      if (test.setpoint.kind === "starts") return tieStarts(test, test.setpoint, testing);
      return tieLimit(test, test.setpoint, signal, resolver);
    case "discrepancy":
      return {
        kind: "discrepancy",
        commanded: testing.add(test.commanded),
        actual: testing.add(test.actual),
        commandedName: resolver.nameOf(firstSignal(test.commanded)),
      };
    default:
      return tieMeasure(test, testing);
  }
}
