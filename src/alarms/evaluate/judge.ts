import { Quality } from "../../boat/quality.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import type { Micros } from "../../ground/time.ts";
import type { TimerHeap } from "../../ground/timer-heap.ts";
import { type Compiled, keepGathered } from "../compile/compile.ts";
import { Dependencies, Touch } from "../compile/dependencies.ts";
import type { Instance } from "../compile/instance.ts";
import { Found, Kleene } from "../life-cycle/kleene.ts";
import type { Judged } from "../life-cycle/life-cycle.ts";
import { HeldDelays } from "./held-delays.ts";
import { TestColumns } from "./test-columns.ts";
import { Slot } from "./timer-slots.ts";
import { findUnjudged } from "./unjudged-test.ts";
import { UnknownReasons } from "./unknown-reasons.ts";

/**
 * Evaluates the instances that fresh signals touch into what their tests found and whether they
 * watch, and lists those whose answer is another than before. Nothing is allocated unless an
 * answer changes. Per message: `judgeFresh`, then read `changed` up to `changedCount`.
 */
export class Judge {
  readonly instances: readonly Instance[];
  readonly tests: TestColumns;
  /** First timer of each instance; `Slot` counts from it. */
  readonly firstTimer: Int32Array;
  readonly ownerOfTimer: Int32Array;
  /** May name an instance twice. */
  changed: Int32Array;
  changedCount = 0;
  /** Evaluations since the start, for the benchmark. */
  evaluations = 0;

  readonly #program: Compiled["program"];
  readonly #dependencies: Dependencies;
  readonly #held: HeldDelays;
  readonly #watchSteps: Int32Array;
  readonly #suppressSteps: Int32Array;
  readonly #found: Uint8Array;
  readonly #watching: Uint8Array;
  readonly #suppressed: Uint8Array;
  readonly #watchingSince: Float64Array;
  /** What was found, watched, suppressed and lost as one number; 255 before the first judgement. */
  readonly #answers: Uint8Array;
  /** By instance: the built-in caution that it cannot be judged; -1 for none. */
  readonly #cautions: Int32Array;
  /** Whether an instance is such a caution. */
  readonly #isCaution: Uint8Array;
  /** What touches the `held` steps of an instance; 0 where it has none. */
  readonly #holds: Uint8Array;
  readonly #touched: Uint8Array;
  readonly #queue: Int32Array;
  #queued = 0;
  readonly #reasons: UnknownReasons;

  /** Whether any rule judges or watches a signal. */
  names(signal: number): boolean {
    return this.#dependencies.names(signal);
  }

  constructor(
    compiled: Compiled,
    readonly table: SignalTable,
    oldAgeOf: (signal: number) => Micros,
    readonly timers: TimerHeap,
  ) {
    const { instances, program } = compiled;
    const count = instances.length;
    this.instances = instances;
    this.#program = program;
    this.tests = new TestColumns(instances, { table, program });
    this.#dependencies = new Dependencies(table, program);
    instances.forEach((instance, i) => this.#dependencies.add(i, instance));
    this.#watchSteps = Int32Array.from(instances, (instance) => instance.watchStep);
    this.#suppressSteps = Int32Array.from(instances, (instance) => instance.suppressStep);
    this.#found = new Uint8Array(count).fill(Found.unknown);
    this.#watching = new Uint8Array(count).fill(Kleene.unknown);
    this.#suppressed = new Uint8Array(count);
    this.#watchingSince = new Float64Array(count).fill(-Infinity);
    this.#answers = new Uint8Array(count).fill(NOT_JUDGED);
    this.#touched = new Uint8Array(count);
    // An instance may come in again through one that is judged after it.
    this.#queue = new Int32Array(2 * count);
    this.#cautions = new Int32Array(count).fill(-1);
    this.#isCaution = new Uint8Array(count);
    instances.forEach(({ test }, i) => {
      if (test.kind !== "unjudged") return;
      this.#cautions[test.of] = i;
      this.#isCaution[i] = 1;
    });
    this.#holds = Uint8Array.from(instances, holdsOf);
    this.changed = new Int32Array(2 * count);
    this.firstTimer = new Int32Array(count);
    const owners: number[] = [];
    instances.forEach((instance, i) => {
      this.firstTimer[i] = owners.length;
      for (let slot = 0; slot < Slot.held + instance.held.length; slot++) owners.push(i);
    });
    this.ownerOfTimer = Int32Array.from(owners);
    this.#reasons = new UnknownReasons(table, oldAgeOf);
    this.#held = new HeldDelays(compiled, this.#reasons, timers, this.firstTimer);
  }

  /** Takes over what an instance of the same rule and subject remembers. */
  adopt(i: number, earlier: Judge, j: number): void {
    const { rule } = this.instances[i];
    if (earlier.instances[j].rule !== rule) return;
    this.#watchingSince[i] = earlier.#watchingSince[j];
    this.#watching[i] = earlier.#watching[j];
    this.#held.adopt(i, earlier.#held, j);
    keepGathered(this.instances[i], earlier.instances[j]);
  }

  /** An instance whose alarm stands is judged anew: it was watched when that was raised. */
  presumeHeld(i: number): void {
    this.#held.presume(i);
  }

  /** An instance was tied again: it is judged with the next fresh signals, whatever they are. */
  follow(i: number): void {
    this.tests.put(i);
    this.#dependencies.add(i, this.instances[i]);
    this.#touch(i, Touch.all);
    // Its answer may stay unknown, but no longer because nothing is sent.
    if (this.#cautions[i] >= 0) this.#touch(this.#cautions[i], Touch.all);
  }

  /** Judges everything that the fresh signals touch, each instance once. */
  judgeFresh(now: Micros): void {
    this.changedCount = 0;
    const { fresh, freshCount } = this.table;
    for (let f = 0; f < freshCount; f++) {
      const signal = fresh[f];
      if (!this.table.isQuiet(signal)) this.#touchBy(signal);
      else this.evaluations += this.#dependencies.entriesOf(signal).length;
    }
    if (this.#queued === 0) return;
    this.#drain(now);
    if (this.changedCount > 1) this.changed.subarray(0, this.changedCount).sort();
  }

  /** Judges every instance: after compiling. */
  judgeAll(now: Micros): void {
    this.changedCount = 0;
    for (let i = 0; i < this.instances.length; i++) this.#look(i, Touch.all, now);
    this.#drain(now);
  }

  /** A timer of `Slot.test` or above falls due. True when an answer changed. */
  actOnTimer(i: number, slot: number, now: Micros): boolean {
    this.changedCount = 0;
    if (slot === Slot.test) {
      this.#look(i, Touch.along, now);
    } else {
      this.#held.act(i, slot - Slot.held, now);
      this.#look(i, Touch.all, now);
    }
    this.#drain(now);
    return this.changedCount > 0;
  }

  /** The present answer as the life cycle takes it. */
  judgementOf(i: number, covered: boolean, now: Micros): Judged {
    this.#gatherReasons(i);
    const { test, signal } = this.instances[i];
    return {
      kind: "judged",
      found: foundOf(this.#found[i]),
      watching: kleeneOf(this.#watching[i]),
      suppressed: this.#suppressed[i] === 1,
      covered,
      lost: this.#reasons.isLost,
      oldAge: this.#reasons.oldAge,
      from: test.kind === "not-heard" && signal >= 0
        ? Math.max(this.table.heardAt(signal), this.#watchingSince[i])
        : now,
    };
  }

  /** Whether its own rule holds it back now. */
  isSuppressed(i: number): boolean {
    return this.#suppressed[i] === 1;
  }

  /** What one found, whether it watches, is suppressed or lost, as one number. */
  answerOf(i: number): number {
    return this.#answers[i];
  }

  /** The timers of one instance, in the order of their slots. */
  timersOf(i: number): number[] {
    const count = Slot.held + this.instances[i].held.length;
    return Array.from({ length: count }, (_, slot) => this.firstTimer[i] + slot);
  }

  isWatching(i: number): Kleene {
    return kleeneOf(this.#watching[i]);
  }

  /** Judges what was touched, and what that touches. */
  #drain(now: Micros): void {
    for (let q = 0; q < this.#queued; q++) {
      const i = this.#queue[q];
      const touched = this.#touched[i];
      this.#touched[i] = 0;
      if (touched !== Touch.test || this.#hasNewFinding(i)) this.#look(i, touched, now);
    }
    this.evaluations += this.#queued;
    this.#queued = 0;
  }

  /**
   * Touches what a fresh signal touches, and passes over limits that find what they found and over
   * conditions whose answers are the same.
   */
  #touchBy(signal: number): void {
    const { qualities, values } = this.table;
    const value = qualities[signal] === Quality.good ? values[signal] : NaN;
    const found = this.#found;
    const entries = this.#dependencies.entriesOf(signal);
    let isQuiet = true;
    for (let e = 0; e < entries.length; e++) {
      const i = Dependencies.instanceOf(entries[e]);
      const touched = Dependencies.touchOf(entries[e]);
      if (touched === Touch.test && this.tests.findsAgain(i, value, found[i])) {
        this.evaluations++;
      } else {
        isQuiet = false;
        this.#touch(i, touched);
      }
    }
    const watchers = this.#dependencies.watchersOf(signal, value);
    for (let w = 0; w < watchers.length; w++) {
      this.#touch(Dependencies.instanceOf(watchers[w]), Dependencies.touchOf(watchers[w]));
    }
    if (isQuiet && watchers.length === 0) this.#quieten(signal, entries);
    else this.table.quieten(signal, NaN, NaN);
  }

  /** Nothing comes of a signal's next values until one crosses the nearest of all its bounds. */
  #quieten(signal: number, entries: readonly number[]): void {
    let above = this.#dependencies.aboveOf(signal);
    let below = this.#dependencies.belowOf(signal);
    for (const entry of entries) {
      const i = Dependencies.instanceOf(entry);
      above = Math.max(above, this.tests.quietAbove(i, this.#found[i]));
      below = Math.min(below, this.tests.quietBelow(i, this.#found[i]));
    }
    this.table.quieten(signal, above, below);
  }

  #touch(i: number, touched: number): void {
    if (this.#touched[i] === 0) this.#queue[this.#queued++] = i;
    this.#touched[i] |= touched;
  }

  /** The short way for most messages: only the test is touched, and it finds what it found before. */
  #hasNewFinding(i: number): boolean {
    const found = this.tests.evaluate(i);
    return found !== this.#found[i] || found === Found.unknown;
  }

  #look(i: number, touched: number, now: Micros): void {
    if (touched !== Touch.test && !this.#lookAround(i, touched, now)) return;
    this.#found[i] = this.#isCaution[i] === 1 ? this.#findUnjudged(i) : this.tests.evaluate(i);
    let answer = this.#found[i] | this.#watching[i] << 2;
    if (this.#suppressed[i] === 1) answer |= SUPPRESSED;
    if (this.#found[i] === Found.unknown || this.#watching[i] === Kleene.unknown) {
      this.#gatherReasons(i);
      if (this.#reasons.isLost) answer |= LOST;
    }
    if (answer === this.#answers[i]) return;
    this.#answers[i] = answer;
    this.changed[this.changedCount++] = i;
    if (this.#cautions[i] >= 0) this.#touch(this.#cautions[i], Touch.all);
  }

  /** What is usual is learned while the rule watches and finds nothing. */
  #mayLearn(i: number): boolean {
    const found = this.#found[i];
    const isQuiet = found === Found.clear || found === Found.unknown;
    return isQuiet && this.#watching[i] === Kleene.yes;
  }

  /**
   * What else than the judged signal decides: conditions, curves, measures. False where only
   * conditions were touched and all of them answer as before.
   */
  #lookAround(i: number, touched: number, now: Micros): boolean {
    if ((touched & this.#holds[i]) !== 0) this.#held.judge(i, now);
    const isNews = (touched & Touch.watch) !== 0 && this.#lookAtWatching(i, now);
    if (touched === Touch.watch && !isNews && this.#isCaution[i] === 0) return false;
    this.tests.follow(i, now, this.#mayLearn(i));
    this.#setTimer(this.firstTimer[i] + Slot.test, this.tests.nextDue(i));
    return true;
  }

  #findUnjudged(i: number): Found {
    const { test } = this.instances[i];
    if (test.kind !== "unjudged") return Found.unknown;
    const { of } = test;
    const isUnknown = this.#found[of] === Found.unknown || this.#watching[of] === Kleene.unknown;
    return findUnjudged(test, this.instances[of], {
      isUnknown,
      isWatching: this.#watching[of] !== Kleene.no,
      table: this.table,
    });
  }

  /** Asks the conditions. True where an answer is another, or not known: the reason may be another. */
  #lookAtWatching(i: number, now: Micros): boolean {
    const step = this.#watchSteps[i];
    const before = this.#watching[i];
    const wasSuppressed = this.#suppressed[i];
    let watching: Kleene = Kleene.yes;
    if (step >= 0) {
      watching = this.#program.evaluate(step);
      if (watching === Kleene.yes && before !== Kleene.yes) this.#watchingSince[i] = now;
    }
    this.#watching[i] = watching;
    const suppress = this.#suppressSteps[i];
    if (suppress >= 0) {
      this.#suppressed[i] = this.#program.evaluate(suppress) === Kleene.yes ? 1 : 0;
    }
    return watching !== before || watching === Kleene.unknown ||
      this.#suppressed[i] !== wasSuppressed;
  }

  #gatherReasons(i: number): void {
    const isWatchUnknown = this.#watching[i] === Kleene.unknown;
    this.#reasons.gather(this.#program, isWatchUnknown ? this.#watchSteps[i] : -1);
    if (this.#found[i] === Found.unknown) this.tests.visitUnknown(i, this.#reasons.visit);
  }

  #setTimer(timer: number, due: Micros): void {
    if (due === Infinity) this.timers.clear(timer);
    else if (this.timers.dueOf(timer) !== due) this.timers.set(timer, due);
  }
}

const NOT_JUDGED = 255;
const LOST = 16;
const SUPPRESSED = 32;

/** Those of the test itself are touched by all that it follows, those of a condition by its changes. */
function holdsOf({ held, watchStep, suppressStep }: Instance): number {
  if (held.length === 0) return 0;
  const conditions = Math.min(...[watchStep, suppressStep].filter((step) => step >= 0), Infinity);
  return held.some(({ step }) => step < conditions) ? Touch.all : Touch.watch;
}

function foundOf(code: number): Found {
  if (code === Found.clear) return Found.clear;
  if (code === Found.deadband) return Found.deadband;
  return code === Found.active ? Found.active : Found.unknown;
}

function kleeneOf(code: number): Kleene {
  if (code === Kleene.no) return Kleene.no;
  return code === Kleene.yes ? Kleene.yes : Kleene.unknown;
}
