import fc from "fast-check";
import { expect, test } from "vitest";
import { Quality, Reason } from "../../boat/quality.ts";
import { SignalTable } from "../../boat/signal-table.ts";
import { AnswerRanges } from "./answer-ranges.ts";
import { ConditionProgram, Op, type ProgramStep } from "./condition-program.ts";

/** Few and near, so that values often lie on a limit or within a hair of one. */
const amount = fc.integer({ min: -8, max: 8 }).map((eighths) => eighths / 8);
const step = fc.record({
  op: fc.constantFrom(Op.over, Op.under, Op.equals),
  limit: amount,
  hair: fc.constantFrom(0, 1e-6, 0.125),
});
const value = fc.oneof(
  amount,
  fc.constant(NaN),
  fc.tuple(amount, fc.constantFrom(-1e-6, -1e-12, 1e-12, 1e-6)).map(([near, by]) => near + by),
);

function programOf(steps: readonly Pick<ProgramStep, "op" | "limit" | "hair">[]) {
  const table = new SignalTable();
  const signal = table.intern({
    name: "engine/port/speed",
    group: "engine",
    subject: "port",
    quantity: "speed",
    unit: "1/min",
    decimals: 0,
    words: null,
    span: null,
    derived: false,
  });
  const whole = steps.map((one, at): ProgramStep => ({
    ...one,
    signal,
    other: signal,
    end: at + 1,
    share: 0,
    codes: [],
    lastKnown: false,
  }));
  return { table, signal, program: new ConditionProgram(whole, table) };
}

test("says of no value that its answers are the same when one of them changed", () => {
  fc.assert(fc.property(
    fc.array(step, { minLength: 1, maxLength: 6 }),
    fc.array(value, { minLength: 2, maxLength: 40 }),
    (steps, values) => {
      const { table, signal, program } = programOf(steps);
      const ranges = new AnswerRanges();
      ranges.add(signal, program.boundsOf(signal, 0, steps.length) ?? []);
      let before: number[] = [];
      for (const value of values) {
        const isGood = !Number.isNaN(value);
        const quality = isGood ? Quality.good : Quality.bad;
        table.set(signal, value, quality, isGood ? Reason.none : Reason.notHeard, 1);
        const isSame = ranges.isSame(signal, value);
        const answers = steps.map((_, at) => program.evaluate(at));
        if (isSame) expect(answers).toEqual(before);
        before = answers;
      }
    },
  ));
});

test("is the same between two bounds, and on neither side of one", () => {
  const ranges = new AnswerRanges();
  ranges.add(3, [500, 1200]);
  const seen = [700, 701, 1199, 1201, 1300, 700, 499, 0, 500, 500.5, NaN, 700, 701];
  expect(seen.map((value) => ranges.isSame(3, value))).toEqual(
    [false, true, true, false, true, false, false, true, false, false, false, false, true],
  );
});

test("looks anew after another bound was added", () => {
  const ranges = new AnswerRanges();
  ranges.add(0, [10]);
  expect([5, 6].map((value) => ranges.isSame(0, value))).toEqual([false, true]);
  ranges.add(0, [5.5]);
  expect([6, 5].map((value) => ranges.isSame(0, value))).toEqual([false, false]);
});
