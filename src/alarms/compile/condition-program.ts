import { Quality, Reason } from "../../boat/quality.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import { Kleene, kleeneNot } from "../life-cycle/kleene.ts";

export const Op = {
  all: 0,
  any: 1,
  not: 2,
  held: 3,
  over: 4,
  under: 5,
  equals: 6,
  oneOf: 7,
  within: 8,
} as const;
export type Op = (typeof Op)[keyof typeof Op];

/** One step of a program. The steps that it is made of follow it, up to `end`. */
export interface ProgramStep {
  readonly op: Op;
  end: number;
  /** What it compares; -1: nothing sends it, so its answer is unknown. */
  readonly signal: number;
  /** The other signal of `within`; otherwise the same one again. */
  readonly other: number;
  readonly limit: number;
  /** Of the greater value, beside `limit`: only of `within`. */
  readonly share: number;
  /** A difference up to this is none. */
  readonly hair: number;
  readonly codes: readonly number[];
  /** Answers from the last value that was good, however old. */
  readonly lastKnown: boolean;
}

/**
 * The conditions of all rules as one flat program over typed arrays, evaluated to Kleene's answers
 * without allocation.
 */
export class ConditionProgram {
  readonly #ops: Uint8Array;
  readonly #ends: Int32Array;
  readonly #signals: Int32Array;
  readonly #others: Int32Array;
  readonly #limits: Float64Array;
  readonly #shares: Float64Array;
  readonly #hairs: Float64Array;
  readonly #lastKnown: Uint8Array;
  readonly #codes: (readonly number[])[];
  /** By step: what a delay made of `held`; the last answer of a last-known comparison. */
  readonly #kept: Uint8Array;

  constructor(steps: readonly ProgramStep[], readonly table: SignalTable) {
    this.#ops = new Uint8Array(steps.length);
    this.#ends = new Int32Array(steps.length);
    this.#signals = new Int32Array(steps.length);
    this.#others = new Int32Array(steps.length);
    this.#limits = new Float64Array(steps.length);
    this.#shares = new Float64Array(steps.length);
    this.#hairs = new Float64Array(steps.length);
    this.#lastKnown = new Uint8Array(steps.length);
    this.#codes = steps.map((step) => step.codes);
    this.#kept = new Uint8Array(steps.length).fill(Kleene.unknown);
    for (const [at, step] of steps.entries()) this.put(at, step);
  }

  /** Puts a step at its place; what it kept stays. */
  put(at: number, step: ProgramStep): void {
    this.#ops[at] = step.op;
    this.#ends[at] = step.end;
    this.#signals[at] = step.signal;
    this.#others[at] = step.other;
    this.#limits[at] = step.limit;
    this.#shares[at] = step.share;
    this.#hairs[at] = step.hair;
    this.#lastKnown[at] = step.lastKnown ? 1 : 0;
    this.#codes[at] = step.codes;
  }

  /** The answer of a step from what is known now. */
  evaluate(at: number): Kleene {
    switch (this.#ops[at]) {
      case Op.all: {
        // No short cut: a last-known comparison must see every value.
        let least: Kleene = Kleene.yes;
        for (let part = at + 1; part < this.#ends[at]; part = this.#ends[part]) {
          const answer = this.evaluate(part);
          if (answer < least) least = answer;
        }
        return least;
      }
      case Op.any: {
        let greatest: Kleene = Kleene.no;
        for (let part = at + 1; part < this.#ends[at]; part = this.#ends[part]) {
          const answer = this.evaluate(part);
          if (answer > greatest) greatest = answer;
        }
        return greatest;
      }
      case Op.not:
        return kleeneNot(this.evaluate(at + 1));
      case Op.held:
        return this.kept(at);
      default:
        return this.#compare(at);
    }
  }

  /** Where the steps of a step end. */
  endOf(at: number): number {
    return this.#ends[at];
  }

  /** The signals that a comparison looks at, or those of the comparisons of one of twins. */
  signalsAt(at: number): number[] {
    if (this.#ops[at] >= Op.over) return [...new Set([this.#signals[at], this.#others[at]])];
    const signals: number[] = [];
    for (let part = at + 1; part < this.#ends[at]; part = this.#ends[part]) {
      signals.push(...this.signalsAt(part));
    }
    return signals;
  }

  /**
   * Values of a signal at which one of the comparisons from step `first` up to `end` changes its
   * answer; null where that cannot be said of one, since it compares with words or another signal.
   */
  boundsOf(signal: number, first: number, end: number): number[] | null {
    const bounds: number[] = [];
    for (let at = first; at < end; at++) {
      if (this.#ops[at] < Op.over) continue;
      if (this.#signals[at] !== signal && this.#others[at] !== signal) continue;
      const limit = this.#limits[at];
      const hair = this.#hairs[at];
      if (this.#ops[at] === Op.over) bounds.push(limit + hair);
      else if (this.#ops[at] === Op.under) bounds.push(limit - hair);
      else if (this.#ops[at] === Op.equals) bounds.push(limit - hair, limit + hair);
      else return null;
    }
    return bounds;
  }

  kept(at: number): Kleene {
    const kept = this.#kept[at];
    return kept === Kleene.no ? Kleene.no : kept === Kleene.yes ? Kleene.yes : Kleene.unknown;
  }

  keep(at: number, answer: Kleene): void {
    this.#kept[at] = answer;
  }

  /** Takes over what the same steps of an earlier program kept. */
  adopt(first: number, end: number, earlier: ConditionProgram, earlierFirst: number): void {
    for (let step = first; step < end; step++) {
      this.#kept[step] = earlier.#kept[earlierFirst + step - first];
    }
  }

  /** Visits the signals that make a step's answer unknown. */
  visitUnknown(at: number, visit: (signal: number) => void): void {
    if (this.evaluate(at) !== Kleene.unknown) return;
    if (this.#ops[at] >= Op.over) {
      if (!this.#isGood(this.#signals[at])) visit(this.#signals[at]);
      if (this.#others[at] !== this.#signals[at] && !this.#isGood(this.#others[at])) {
        visit(this.#others[at]);
      }
      return;
    }
    for (let part = at + 1; part < this.#ends[at]; part = this.#ends[part]) {
      this.visitUnknown(part, visit);
    }
  }

  #compare(at: number): Kleene {
    const signal = this.#signals[at];
    if (!this.#isGood(signal) || !this.#isGood(this.#others[at])) {
      return this.#lastKnown[at] === 1 ? this.kept(at) : Kleene.unknown;
    }
    const answer = this.#isTrue(at, this.table.values[signal]) ? Kleene.yes : Kleene.no;
    if (this.#lastKnown[at] === 1) this.#kept[at] = answer;
    return answer;
  }

  /** What is inferred is uncertain for ever: it is judged all the same, since nothing better comes. */
  #isGood(signal: number): boolean {
    if (signal < 0) return false;
    const { qualities, reasons } = this.table;
    return qualities[signal] === Quality.good || reasons[signal] === Reason.inferred;
  }

  #isTrue(at: number, value: number): boolean {
    const above = value - this.#limits[at];
    switch (this.#ops[at]) {
      case Op.over:
        return above > this.#hairs[at];
      case Op.under:
        return above < -this.#hairs[at];
      case Op.equals:
        return Math.abs(above) <= this.#hairs[at];
      case Op.within: {
        const other = this.table.values[this.#others[at]];
        const greater = Math.max(Math.abs(value), Math.abs(other));
        const apart = this.#limits[at] + this.#shares[at] * greater;
        return Math.abs(value - other) <= apart + this.#hairs[at];
      }
      default:
        return this.#codes[at].includes(value);
    }
  }
}
