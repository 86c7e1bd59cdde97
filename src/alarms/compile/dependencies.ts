import type { SignalTable } from "../../boat/signal-table.ts";
import { AnswerRanges } from "./answer-ranges.ts";
import type { ConditionProgram } from "./condition-program.ts";
import type { Instance, TiedTest } from "./instance.ts";

/**
 * What of an instance a signal touches; one signal may touch several. `watch`: a condition in which
 * every change of the signal counts. `along`: what a curve or a measure follows.
 */
export const Touch = { test: 1, watch: 2, along: 4, all: 7 } as const;

const NONE: readonly number[] = [];

/** By signal: the instances that it touches and how. */
export class Dependencies {
  /** In the order of instances: each entry is one times eight, plus what of it is touched. */
  readonly #entries: number[][] = [];
  /** The same, where nothing but the answers of an instance's conditions counts. */
  readonly #watchers: number[][] = [];
  readonly #ranges = new AnswerRanges();

  constructor(readonly table: SignalTable, readonly program: ConditionProgram) {}

  /** The instances that a signal touches: read them with `instanceOf` and `touchOf`. */
  entriesOf(signal: number): readonly number[] {
    return signal < this.#entries.length ? this.#entries[signal] : NONE;
  }

  /**
   * The instances whose conditions look at a signal, as above, where one of their answers may have
   * changed.
   * @param value NaN where it is not good
   */
  watchersOf(signal: number, value: number): readonly number[] {
    if (!this.#isWatched(signal)) return NONE;
    return this.#ranges.isSame(signal, value) ? NONE : this.#watchers[signal];
  }

  /**
   * Between what values of a signal no condition's answer changes, as `watchersOf` was told the last
   * one; NaN where any may change it.
   */
  aboveOf(signal: number): number {
    return this.#isWatched(signal) ? this.#ranges.aboveOf(signal) : -Infinity;
  }

  belowOf(signal: number): number {
    return this.#isWatched(signal) ? this.#ranges.belowOf(signal) : Infinity;
  }

  #isWatched(signal: number): boolean {
    return signal < this.#watchers.length && this.#watchers[signal].length > 0;
  }

  /** Whether a signal touches anything. */
  names(signal: number): boolean {
    return this.entriesOf(signal).length > 0 || this.#isWatched(signal);
  }

  static instanceOf(entry: number): number {
    return entry >>> 3;
  }

  static touchOf(entry: number): number {
    return entry & Touch.all;
  }

  /** Adds what an instance depends on; what is there already stays. */
  add(i: number, instance: Instance): void {
    const { signal, test, testSignals, watchSignals, suppressSignals } = instance;
    const touch = touchOf(test);
    if (test.kind === "unjudged") return this.#addUnjudged(i, testSignals, test.frames);
    if (isOfAnswers(test)) {
      for (const one of testSignals) this.#addWatched(one, i, touch, instance);
    } else {
      for (const one of [signal, ...testSignals]) this.#add(one, i, touch);
    }
    if ("curve" in test && test.curve !== null) this.#add(test.curve.along, i, Touch.along);
    for (const one of [...watchSignals, ...suppressSignals]) {
      this.#addWatched(one, i, Touch.watch, instance);
    }
  }

  /** Of the frames of a network it matters only whether there are any. */
  #addUnjudged(i: number, signals: readonly number[], frames: number | null): void {
    for (const one of signals) {
      if (one === frames) this.#addWatcher(one, i, Touch.watch, [0]);
      else this.#add(one, i, Touch.all);
    }
  }

  #addWatched(signal: number, i: number, touch: number, { firstStep, endStep }: Instance): void {
    const bounds = this.program.boundsOf(signal, firstStep, endStep);
    if (bounds === null) this.#add(signal, i, touch);
    else this.#addWatcher(signal, i, touch, bounds);
  }

  #addWatcher(signal: number, i: number, touch: number, bounds: readonly number[]): void {
    if (signal < 0) return;
    addEntry(this.#watchers, signal, i, touch);
    this.#ranges.add(signal, bounds);
    this.table.heedLimits(signal);
  }

  /** @param signal -1 while there is none yet */
  #add(signal: number, i: number, touch: number): void {
    if (signal < 0) return;
    addEntry(this.#entries, signal, i, touch);
    this.table.heedLimits(signal);
  }
}

function addEntry(lists: number[][], signal: number, i: number, touch: number): void {
  while (lists.length <= signal) lists.push([]);
  const entries = lists[signal];
  let at = entries.length;
  while (at > 0 && Dependencies.instanceOf(entries[at - 1]) > i) at--;
  if (at > 0 && Dependencies.instanceOf(entries[at - 1]) === i) entries[at - 1] |= touch;
  else entries.splice(at, 0, i << 3 | touch);
}

function isOfAnswers(test: TiedTest): boolean {
  return test.kind === "discrepancy" || test.kind === "measured" && test.measure.isOfAnswers;
}

function touchOf({ kind }: TiedTest): number {
  if (kind === "measured") return Touch.along;
  return kind === "discrepancy" || kind === "unjudged" ? Touch.all : Touch.test;
}
