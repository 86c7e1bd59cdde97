import { QUALITY_WORDS, REASON_WORDS } from "../boat/quality.ts";
import type { SignalTable } from "../boat/signal-table.ts";
import type { Micros } from "../ground/time.ts";
import type { UnitCode } from "../units/codes.ts";
import { sayDuration } from "../units/duration.ts";
import type { ConditionProgram } from "./compile/condition-program.ts";
import type { Instance } from "./compile/instance.ts";
import { judgedUnit, judgedValue, shownLimit } from "./judged-value.ts";
import { Kleene } from "./life-cycle/kleene.ts";
import type { Standing } from "./not-judged.ts";
import type { Condition, Limit } from "./rules/rule-parts.ts";
import { valueNow } from "./signal-words.ts";

/** Why a rule answered as it did at one instant, as plain data. */
export interface Explanation {
  /** Every signal that the rule looked at: what is judged first, then what let it be judged. */
  readonly inputs: readonly Input[];
  /** What was held against the limit: a signal's value or a figure; null while not known. */
  readonly value: number | string | null;
  readonly setpoint: number | null;
  readonly unit: UnitCode;
  readonly watching: Answer;
  /** The parts of `watch-while` and what each of them answered. */
  readonly conditions: readonly ConditionAnswer[];
  readonly suppressed: boolean;
  /** How long the test had to hold for this change; 0 for one that waits for nothing. */
  readonly held: Micros;
}

export interface Input {
  readonly signal: string;
  readonly value: number | string | null;
  readonly unit: UnitCode;
  readonly quality: string;
  /** Why quality is not good; empty where it is. */
  readonly reason: string;
  /** Since its last message; null for one that was never heard. */
  readonly age: Micros | null;
}

export type Answer = "yes" | "no" | "unknown";

export interface ConditionAnswer {
  /** `engine/port/condition is idling or running, held 10 s` */
  readonly condition: string;
  readonly answer: Answer;
}

/** Explains one rule and subject as it stands. */
export function explain(
  instance: Instance,
  standing: Standing & { readonly suppressed: boolean },
  program: ConditionProgram,
  now: Micros,
  held: Micros,
): Explanation {
  const { table, watching, limit, suppressed } = standing;
  const { signal, testSignals, watchSignals, suppressSignals, rule, watchStep, test } = instance;
  const along = "curve" in test && test.curve !== null ? [test.curve.along] : [];
  const signals = [signal, ...testSignals, ...along, ...watchSignals, ...suppressSignals];
  return {
    inputs: [...new Set(signals)].filter((one) => one >= 0).map((one) => inputOf(table, one, now)),
    value: judgedValue(instance, table, now),
    setpoint: shownLimit(limit, instance, table),
    unit: judgedUnit(instance, table) ?? "",
    watching: answerOf(watching),
    conditions: rule.watchWhile === null || watchStep < 0
      ? []
      : answersOf(rule.watchWhile, watchStep, program, table),
    suppressed,
    held,
  };
}

export function answerOf(answer: Kleene): Answer {
  if (answer === Kleene.unknown) return "unknown";
  return answer === Kleene.yes ? "yes" : "no";
}

function inputOf(table: SignalTable, signal: number, now: Micros): Input {
  const { name, unit } = table.facts[signal];
  const heard = table.heardAt(signal);
  return {
    signal: name,
    value: valueNow(table, signal),
    unit,
    quality: QUALITY_WORDS[table.qualities[signal]],
    reason: REASON_WORDS[table.reasons[signal]],
    age: heard === 0 ? null : now - heard,
  };
}

/** The comparisons of a condition and the parts that must be held, in the order written. */
function answersOf(
  condition: Condition,
  at: number,
  program: ConditionProgram,
  table: SignalTable,
): ConditionAnswer[] {
  if (condition.kind === "all" || condition.kind === "any") {
    const parts: ConditionAnswer[] = [];
    let step = at + 1;
    for (const part of condition.of) {
      parts.push(...answersOf(part, step, program, table));
      step = program.endOf(step);
    }
    return parts;
  }
  const words = conditionWords(condition, at, program, table);
  return [{ condition: words, answer: answerOf(program.evaluate(at)) }];
}

function conditionWords(
  condition: Condition,
  at: number,
  program: ConditionProgram,
  table: SignalTable,
): string {
  switch (condition.kind) {
    case "all":
    case "any": {
      const parts: string[] = [];
      let step = at + 1;
      for (const part of condition.of) {
        parts.push(conditionWords(part, step, program, table));
        step = program.endOf(step);
      }
      return parts.join(condition.kind === "all" ? " and " : " or ");
    }
    case "not":
      return `not: ${conditionWords(condition.of, at + 1, program, table)}`;
    case "held": {
      const words = conditionWords(condition.of, at + 1, program, table);
      return `${words}, held ${sayDuration(condition.length)}`;
    }
    default:
      return `${namesAt(at, program, table) || condition.signal.name} ${comparison(condition)}`;
  }
}

type Comparison = Exclude<Condition, { kind: "all" | "any" | "not" | "held" }>;

function comparison(condition: Comparison): string {
  switch (condition.kind) {
    case "over":
    case "under":
      return `${condition.kind} ${sayLimit(condition.limit)}`;
    case "equals":
      return `is ${condition.amount.written}`;
    case "one-of":
      return `is ${condition.words.join(" or ")}`;
    case "within": {
      const { apart } = condition;
      const far = apart.kind === "share" ? `${apart.percent} %` : apart.amount.written;
      return `within ${far} of each other`;
    }
  }
}

/** As its rule file has it. */
function sayLimit(limit: Limit): string {
  switch (limit.kind) {
    case "fixed":
      return limit.amount.written;
    case "share-of":
      return `${Number((100 * limit.share).toPrecision(9))} % of ${limit.number}`;
    case "per-nominal":
      return `${limit.amount.written} per ${limit.per.written}`;
  }
}

/** The signals of a comparison, both of twins; empty while nothing sends them. */
function namesAt(at: number, program: ConditionProgram, table: SignalTable): string {
  return program.signalsAt(at).filter((signal) => signal >= 0)
    .map((signal) => table.facts[signal].name).join(" and ");
}
