import { describe, expect, test } from "vitest";
import { SignalTable } from "../../boat/signal-table.ts";
import { ConditionProgram, Op, type ProgramStep } from "../compile/condition-program.ts";
import { Found, isActive, isClear, Kleene, kleeneNot } from "./kleene.ts";

const { no, unknown, yes } = Kleene;
const ANSWERS: readonly Kleene[] = [no, unknown, yes];

/** Kleene's strong logic, "Introduction to Metamathematics", §64: the tables of three values. */
const AND = [[no, no, no], [no, unknown, unknown], [no, unknown, yes]];
const OR = [[no, unknown, yes], [unknown, unknown, yes], [yes, yes, yes]];
const NOT = [yes, unknown, no];

function step(op: Op, end: number): ProgramStep {
  return {
    op,
    end,
    signal: -1,
    other: -1,
    limit: 0,
    share: 0,
    hair: 0,
    codes: [],
    lastKnown: false,
  };
}

/** A program of one step over held steps, whose answers are set from outside. */
function answerOf(op: Op, parts: readonly Kleene[]): Kleene {
  const end = 1 + 2 * parts.length;
  const steps = [step(op, end)];
  for (const _ of parts) {
    steps.push(step(Op.held, steps.length + 2));
    steps.push(step(Op.over, steps.length + 1));
  }
  const program = new ConditionProgram(steps, new SignalTable());
  parts.forEach((answer, i) => program.keep(1 + 2 * i, answer));
  return program.evaluate(0);
}

describe("three-valued logic", () => {
  test.each(ANSWERS.flatMap((a) => ANSWERS.map((b) => [a, b] as const)))(
    "follows Kleene's tables for %i and %i",
    (a, b) => {
      expect(answerOf(Op.all, [a, b])).toBe(AND[a][b]);
      expect(answerOf(Op.any, [a, b])).toBe(OR[a][b]);
    },
  );

  test.each(ANSWERS)("turns %i round and leaves unknown unknown", (a) => {
    expect(kleeneNot(a)).toBe(NOT[a]);
    expect(answerOf(Op.not, [a])).toBe(NOT[a]);
  });

  test("finds a test in its deadband neither active nor clear", () => {
    expect([isActive(Found.deadband), isClear(Found.deadband)]).toEqual([no, no]);
    expect([isActive(Found.unknown), isClear(Found.unknown)]).toEqual([unknown, unknown]);
    expect([isActive(Found.active), isClear(Found.clear)]).toEqual([yes, yes]);
  });
});
