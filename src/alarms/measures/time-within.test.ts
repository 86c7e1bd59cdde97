import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Quality, Reason } from "../../boat/quality.ts";
import { SignalTable } from "../../boat/signal-table.ts";
import { SECOND } from "../../ground/time.ts";
import { ConditionProgram, Op } from "../compile/condition-program.ts";
import { TimeWithin } from "./time-within.ts";

const WITHIN = 20;
const LIMIT = 7;

/** What a pump's switch said for a while: on, off, or nothing that is known. */
interface Said {
  readonly seconds: number;
  readonly value: number;
}

const story = fc.array(
  fc.record({
    seconds: fc.integer({ min: 1, max: 12 }),
    value: fc.constantFrom(0, 0, 1, 1, NaN),
  }),
  { minLength: 1, maxLength: 30 },
);

describe("for how long a state has been there", () => {
  test("is the sum of the seconds of it that lie in the window", () => {
    fc.assert(fc.property(story, (said) => {
      const seconds = secondBySecond(said);
      const pump = new Pump(WITHIN);
      for (let now = 0; now < seconds.length; now++) {
        pump.reads(seconds[now], now);
        const on = countOf(seconds.slice(Math.max(0, now - WITHIN), now));
        expect(pump.measure.figure).toBe(Number.isNaN(seconds[now]) && on < LIMIT ? NaN : on);
      }
    }));
  });

  test("of this go ends with it", () => {
    fc.assert(fc.property(story, (said) => {
      const seconds = secondBySecond(said);
      const pump = new Pump(Infinity);
      for (let now = 0; now < seconds.length; now++) {
        pump.reads(seconds[now], now);
        if (Number.isNaN(seconds[now])) continue;
        const lastOff = seconds.findLastIndex((value, second) => second <= now && value === 0);
        const on = countOf(seconds.slice(lastOff + 1, now));
        expect(pump.measure.figure).toBe(on);
      }
    }));
  });

  test("goes on after a restart as if the computer had been off for no time", () => {
    fc.assert(fc.property(story, story, (before, after) => {
      const first = secondBySecond(before);
      const pump = new Pump(WITHIN);
      first.forEach((value, now) => pump.reads(value, now));
      pump.reads(0, first.length);
      const restarted = new Pump(WITHIN);
      const kept = pump.measure.keep(first.length * SECOND);
      if (kept !== null) restarted.measure.recall(kept, first.length * SECOND);
      secondBySecond(after).forEach((value, second) => {
        const now = first.length + 1 + second;
        pump.reads(value, now);
        restarted.reads(value, now);
        expect(restarted.measure.figure).toBe(pump.measure.figure);
        expect(restarted.measure.nextDue).toBe(pump.measure.nextDue);
      });
    }));
  });
});

function secondBySecond(said: readonly Said[]): number[] {
  return said.flatMap(({ seconds, value }) => Array<number>(seconds).fill(value));
}

function countOf(seconds: readonly number[]): number {
  return seconds.filter((value) => value === 1).length;
}

/** A bilge pump's switch and what is measured of it, followed each second. */
class Pump {
  readonly measure: TimeWithin;
  readonly #table = new SignalTable();
  readonly #program: ConditionProgram;
  readonly #signal: number;

  constructor(within: number) {
    this.#signal = this.#table.intern({
      ...{ name: "bilge/aft/pump", group: "bilge", subject: "aft", quantity: "pump", unit: "1" },
      ...{ decimals: 0, words: null, span: null, derived: false },
    });
    const isOn = { op: Op.equals, end: 1, signal: this.#signal, other: this.#signal, limit: 1 };
    const rest = { share: 0, hair: 0, codes: [], lastKnown: false };
    this.#program = new ConditionProgram([{ ...isOn, ...rest }], this.#table);
    this.measure = new TimeWithin(0, within * SECOND, LIMIT * SECOND);
  }

  reads(value: number, second: number): void {
    const isKnown = !Number.isNaN(value);
    const now = second * SECOND;
    const reason = isKnown ? Reason.none : Reason.notHeard;
    this.#table.set(this.#signal, value, isKnown ? Quality.good : Quality.bad, reason, now);
    this.measure.follow({ table: this.#table, program: this.#program }, now);
  }
}
