import { Quality, Reason } from "../../boat/quality.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import type { Micros } from "../../ground/time.ts";
import {
  hasRoom,
  type Instance,
  type TiedCurve,
  type TiedLimit,
  type TiedMeasure,
} from "../compile/instance.ts";
import { Found, Kleene } from "../life-cycle/kleene.ts";
import { goodValue } from "../measures/good-value.ts";
import { figureAt, type Measure, type Readings } from "../measures/measure.ts";

const Kind = {
  never: 0,
  limit: 1,
  reads: 2,
  bits: 3,
  notHeard: 4,
  discrepancy: 5,
  measured: 6,
} as const;

/** Side by side: looking into another array costs more than the comparison does. */
const enum Plain {
  sign = 0,
  activeBelow = 1,
  clearFrom = 2,
  stride = 4,
}

/**
 * The tests of all instances as a struct of arrays, so that one evaluation is a few reads and
 * comparisons and allocates nothing.
 */
export class TestColumns {
  readonly table: SignalTable;
  readonly #kinds: Uint8Array;
  readonly #signals: Int32Array;
  readonly #limits: Float64Array;
  /** 1 for `low`, -1 for `high`: values times this are compared with the two columns below. */
  readonly #signs: Float64Array;
  /** Below it the test is active. */
  readonly #activeBelow: Float64Array;
  /** From it on the test is clear; between the two lies the deadband. */
  readonly #clearFrom: Float64Array;
  /** What counts as the whole room; NaN where a test has none. */
  readonly #spans: Float64Array;
  /** For `findsAgain`, `Plain.stride` apart: the same of a plain limit; NaN for any other test. */
  readonly #plain: Float64Array;
  /** By instance, and null for tests of another kind: to ask each test for its kind costs more. */
  readonly #curves: (TiedCurve | null)[] = [];
  readonly #measures: (Measure | null)[] = [];
  readonly #codes: (readonly number[])[] = [];

  constructor(readonly instances: readonly Instance[], readonly readings: Readings) {
    this.table = readings.table;
    const count = instances.length;
    this.#kinds = new Uint8Array(count);
    this.#signals = new Int32Array(count);
    this.#limits = new Float64Array(count);
    this.#signs = new Float64Array(count);
    this.#activeBelow = new Float64Array(count);
    this.#clearFrom = new Float64Array(count);
    this.#spans = new Float64Array(count);
    this.#plain = new Float64Array(count * Plain.stride);
    for (let i = 0; i < count; i++) this.put(i);
  }

  /** Reads an instance anew, after it was tied. */
  put(i: number): void {
    const instance = this.instances[i];
    const { test, signal } = instance;
    this.#kinds[i] = kindOf(instance);
    this.#signals[i] = signal;
    this.#curves[i] = "curve" in test ? test.curve : null;
    this.#measures[i] = test.kind === "measured" ? test.measure : null;
    this.#codes[i] = test.kind === "reads" ? test.codes : NONE;
    this.#limits[i] = NaN;
    this.#spans[i] = signal < 0 ? NaN : this.table.facts[signal].span ?? NaN;
    if (test.kind === "low" || test.kind === "high") this.#setLimit(i, test, test.limit);
    if (test.kind === "measured") this.#setMeasured(i, test);
    if (this.#kinds[i] === Kind.never) this.#spans[i] = NaN;
    this.#setPlain(i);
  }

  /**
   * The short way for most messages: whether a plain limit finds what it found before. False where
   * it does not, or where that is more than a comparison to say.
   * @param value of the judged signal; NaN where it is not good
   */
  findsAgain(i: number, value: number, found: number): boolean {
    const plain = this.#plain;
    const own = i * Plain.stride;
    const signed = value * plain[own + Plain.sign];
    if (found === Found.clear) return signed >= plain[own + Plain.clearFrom];
    if (found === Found.active) return signed < plain[own + Plain.activeBelow];
    return found === Found.deadband && signed >= plain[own + Plain.activeBelow] &&
      signed < plain[own + Plain.clearFrom];
  }

  /**
   * Above what value, and below what value, a plain limit finds what it found: bounds that lie a
   * little within what `findsAgain` allows. Infinite where no value changes it.
   */
  quietAbove(i: number, found: number): number {
    const plain = this.#plain;
    const own = i * Plain.stride;
    if (plain[own + Plain.sign] > 0) {
      return found === Found.active ? -Infinity : plain[own + leastOf(found)];
    }
    return plain[own + Plain.sign] < 0 && found !== Found.clear
      ? -plain[own + mostOf(found)]
      : -Infinity;
  }

  quietBelow(i: number, found: number): number {
    const plain = this.#plain;
    const own = i * Plain.stride;
    if (plain[own + Plain.sign] < 0) {
      return found === Found.active ? Infinity : -plain[own + leastOf(found)];
    }
    return plain[own + Plain.sign] > 0 && found !== Found.clear
      ? plain[own + mostOf(found)]
      : Infinity;
  }

  evaluate(i: number): Found {
    switch (this.#kinds[i]) {
      case Kind.limit:
        return this.#againstLimit(i);
      case Kind.reads:
        return this.#reads(i);
      case Kind.bits:
        return this.#bits(i);
      case Kind.notHeard:
        return this.#notHeard(i);
      case Kind.discrepancy:
        return this.#discrepancy(i);
      case Kind.measured:
        return this.#measured(i);
      default:
        return Found.unknown;
    }
  }

  /** The limit as judged now, in the signal's unit; NaN where there is none or it is not known. */
  limitOf(i: number): number {
    return this.#limits[i];
  }

  /** Whether a test can say how much room there is left, now that it is tied to what it judges. */
  hasRoom(i: number): boolean {
    return this.isNotHeard(i) || !Number.isNaN(this.#spans[i]);
  }

  /** Whether a test is of the age of its signal. */
  isNotHeard(i: number): boolean {
    return this.#kinds[i] === Kind.notHeard;
  }

  /** The room left to a limit as a share of its span; NaN where there is none, or it is not known. */
  roomOf(i: number, now: Micros): number {
    const measure = this.#measures[i];
    const found = measure === null
      ? goodValue(this.table, this.#signals[i])
      : figureAt(measure, now);
    return (found - this.#limits[i]) * this.#signs[i] / this.#spans[i];
  }

  /** What a curve or a measure follows has another value, or its time has come. */
  follow(i: number, now: Micros, mayLearn: boolean): void {
    const measure = this.#measures[i];
    if (measure !== null) measure.follow(this.readings, now, mayLearn);
    const curve = this.#curves[i];
    if (curve !== null) this.#followCurve(i, curve, now);
  }

  #followCurve(i: number, { along, table, window }: TiedCurve, now: Micros): void {
    const value = goodValue(this.table, along);
    window?.take(value, now);
    const { test } = this.instances[i];
    if (test.kind !== "low" && test.kind !== "high") return;
    this.#setLimit(i, test, table.limitAt(window === null ? value : window.lowest));
    this.#setPlain(i);
  }

  /** When the test is to be followed again though no message came. */
  nextDue(i: number): Micros {
    const measure = this.#measures[i];
    return measure === null ? this.#curves[i]?.window?.nextLeave ?? Infinity : measure.nextDue;
  }

  /** Visits the signals that make the test's answer unknown; -1 for one that nothing sends. */
  visitUnknown(i: number, visit: (signal: number) => void): void {
    const { test, signal, testSignals } = this.instances[i];
    if (this.#isUnknown(signal)) visit(signal);
    for (const followed of testSignals) if (this.#isUnknown(followed)) visit(followed);
    if ("curve" in test && test.curve !== null && this.#isUnknown(test.curve.along)) {
      visit(test.curve.along);
    }
  }

  #isUnknown(signal: number): boolean {
    return signal < 0 || this.table.qualities[signal] !== Quality.good;
  }

  #setLimit(i: number, test: TiedLimit, limit: number): void {
    const sign = test.kind === "high" ? -1 : 1;
    this.#limits[i] = limit;
    this.#signs[i] = sign;
    this.#activeBelow[i] = sign * limit - test.hair;
    this.#clearFrom[i] = sign * limit - test.hair + test.deadband +
      Math.abs(limit) * test.deadbandShare;
  }

  /** Whatever was quiet up to now may lie beyond the new limit. */
  #setPlain(i: number): void {
    if (this.#signals[i] >= 0) this.table.quieten(this.#signals[i], NaN, NaN);
    const own = i * Plain.stride;
    if (this.#kinds[i] === Kind.notHeard) {
      // Whatever the value is, it is heard.
      this.#plain.set([0, -Infinity, 0], own);
      return;
    }
    const isPlain = this.#kinds[i] === Kind.limit;
    this.#plain[own + Plain.sign] = isPlain ? this.#signs[i] : NaN;
    this.#plain[own + Plain.activeBelow] = this.#activeBelow[i];
    this.#plain[own + Plain.clearFrom] = this.#clearFrom[i];
  }

  #setMeasured(i: number, test: TiedMeasure): void {
    const sign = test.side === "high" ? -1 : 1;
    this.#limits[i] = test.limit;
    this.#signs[i] = sign;
    this.#spans[i] = hasRoom(test) ? test.limit : NaN;
    this.#activeBelow[i] = sign * test.limit + (test.isReached ? test.hair : -test.hair);
    this.#clearFrom[i] = this.#activeBelow[i] + test.deadband;
  }

  #againstLimit(i: number): Found {
    const signal = this.#signals[i];
    if (this.table.qualities[signal] !== Quality.good) return Found.unknown;
    const value = this.table.values[signal] * this.#signs[i];
    if (value < this.#activeBelow[i]) return Found.active;
    if (value >= this.#clearFrom[i]) return Found.clear;
    // Neither: in the deadband, or the limit is not known.
    const limit = this.#limits[i];
    return limit === limit ? Found.deadband : Found.unknown;
  }

  #measured(i: number): Found {
    const measure = this.#measures[i];
    const figure = measure === null ? NaN : measure.figure * this.#signs[i];
    if (figure < this.#activeBelow[i]) return Found.active;
    if (figure >= this.#clearFrom[i]) return Found.clear;
    return figure === figure && this.#limits[i] === this.#limits[i]
      ? Found.deadband
      : Found.unknown;
  }

  #discrepancy(i: number): Found {
    const { test } = this.instances[i];
    if (test.kind !== "discrepancy") return Found.unknown;
    const { program } = this.readings;
    const commanded = program.evaluate(test.commanded);
    const actual = program.evaluate(test.actual);
    if (commanded === Kleene.unknown || actual === Kleene.unknown) return Found.unknown;
    return commanded === actual ? Found.clear : Found.active;
  }

  #reads(i: number): Found {
    const signal = this.#signals[i];
    if (this.table.qualities[signal] !== Quality.good) return Found.unknown;
    return this.#codes[i].includes(this.table.values[signal]) ? Found.active : Found.clear;
  }

  #bits(i: number): Found {
    const { test } = this.instances[i];
    if (test.kind !== "bit-pattern") return Found.unknown;
    let found: Found = Found.active;
    for (let b = 0; b < test.signals.length; b++) {
      const signal = test.signals[b];
      if (this.#isUnknown(signal)) found = Found.unknown;
      else if ((this.table.values[signal] !== 0) !== test.on[b]) return Found.clear;
    }
    return found;
  }

  /** Absence is what this test waits for; a signal that was never heard is not absent but unknown. */
  #notHeard(i: number): Found {
    const signal = this.#signals[i];
    if (this.table.reasons[signal] !== Reason.notHeard) return Found.clear;
    return this.table.heardAt(signal) > 0 ? Found.active : Found.unknown;
  }
}

const NONE: readonly number[] = [];

/** The bound above which signed values are found clear, or in the deadband. */
function leastOf(found: number): Plain {
  return found === Found.clear ? Plain.clearFrom : Plain.activeBelow;
}

/** The bound below which they are found active, or in the deadband. */
function mostOf(found: number): Plain {
  return found === Found.active ? Plain.activeBelow : Plain.clearFrom;
}

function kindOf({ signal, test, reason }: Instance): number {
  if (reason !== "" || test.kind === "unjudged") return Kind.never;
  if (test.kind === "discrepancy") return Kind.discrepancy;
  if (test.kind === "measured") return Kind.measured;
  if (signal < 0) return Kind.never;
  switch (test.kind) {
    case "low":
    case "high":
      return Kind.limit;
    case "reads":
      return Kind.reads;
    case "bit-pattern":
      return Kind.bits;
    case "not-heard":
      return Kind.notHeard;
  }
}
