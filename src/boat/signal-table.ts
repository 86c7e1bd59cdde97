import type { Micros } from "../ground/time.ts";
import type { UnitCode } from "../units/codes.ts";
import { Quality, Reason } from "./quality.ts";

/** What a signal is, fixed when it is first named. */
export interface SignalFacts {
  /** `GROUP[/SUBJECT]/QUANTITY`, contract §3. */
  readonly name: string;
  readonly group: string;
  /** Empty for groups without subjects (`position/latitude`). */
  readonly subject: string;
  readonly quantity: string;
  readonly unit: UnitCode;
  /** Decimals shown, contract §3. */
  readonly decimals: number;
  /** Code → word of an enumerated signal; its value is the code. */
  readonly words: ReadonlyMap<number, string> | null;
  /** Width of the usual range in `unit`, for room left; null where the table gives none. */
  readonly span: number | null;
  /** Change in `unit` that is worth telling; absent or 0: every change. */
  readonly deadband?: number;
  /** Not sent by a device but worked out here (`engine/port/condition`). */
  readonly derived: boolean;
}

/**
 * All signals of the boat as dense integers. Names are resolved once; on the hot path a signal is
 * a number and everything about it lies in typed arrays.
 *
 * Two lists tell what changed: `fresh` since the last message (the rules empty it), `touched`
 * since the last turn (the outputs empty it). A signal whose message came again with the same
 * bits is in neither: only its message's time moves (`heardAt`). On a full bus most signals are
 * judged by nobody, and the others seldom come near a limit: where nobody reads all of `fresh`, what
 * changes nobody's mind can be left out of it.
 */
export class SignalTable {
  readonly facts: SignalFacts[] = [];
  /** In the signal's unit; NaN where quality is bad; the code for words; 0 or 1 for bits. */
  values = new Float64Array(INITIAL);
  qualities = new Uint8Array(INITIAL);
  reasons = new Uint8Array(INITIAL);
  /** Which carrier (message of one sender, or derivation) brings the signal; -1 none yet. */
  carriers = new Int32Array(INITIAL);
  /** Steady time at which value or quality last changed; 0 never. */
  changedAt = new Float64Array(INITIAL);
  /** By carrier: steady time of its last message; 0 never. */
  carrierHeard = new Float64Array(INITIAL);
  /** By carrier: how many messages it has brought. */
  carrierMessages = new Float64Array(INITIAL);
  carrierCount = 0;

  fresh = new Int32Array(INITIAL);
  freshCount = 0;
  touched = new Int32Array(INITIAL);
  touchedCount = 0;
  /** By signal: which of the two lists it is on, `Mark`. */
  marks = new Uint8Array(INITIAL);

  /** By signal: 1 where somebody judges by it; see `heed`. */
  #heeded = new Uint8Array(INITIAL);
  /** By signal: its mark while it is on no list. One that is left out of `fresh` counts as on it. */
  #resting = new Uint8Array(INITIAL);
  #leavesOut = false;
  /** By signal, and two for each: good values between them change no rule's mind; NaN, NaN: any may. */
  #quiet = new Float64Array(INITIAL * 2).fill(NaN);
  /** By signal: 1 where somebody wants to see every change. */
  #watched = new Uint8Array(INITIAL);
  /** Not 0 while a fresh signal is one that is heeded, or a signal is new. */
  freshHeeded = 1;

  readonly #numbers = new Map<string, number>();
  readonly #subjects = new Map<string, string[]>();
  /** Goes up when a group gains a subject: rules with `each` then unfold anew. */
  subjectCount = 0;

  get count(): number {
    return this.facts.length;
  }

  /** The number of a name, or -1. */
  find(name: string): number {
    return this.#numbers.get(name) ?? -1;
  }

  /** The number of the signal with this name, made if new: bad and not heard until heard. */
  intern(facts: SignalFacts): number {
    const known = this.#numbers.get(facts.name);
    if (known !== undefined) return known;
    const signal = this.facts.length;
    if (signal === this.values.length) this.#grow();
    this.facts.push(facts);
    this.#numbers.set(facts.name, signal);
    this.values[signal] = NaN;
    this.qualities[signal] = Quality.bad;
    this.reasons[signal] = Reason.notHeard;
    this.carriers[signal] = -1;
    this.addSubject(facts.group, facts.subject);
    this.freshHeeded = 1;
    // Its first value is on the list in any case: somebody may begin to heed it then.
    this.#resting[signal] = this.#leavesOut ? Mark.fresh : 0;
    return signal;
  }

  /** Says that somebody judges by a signal: only then is it worth a look when it is fresh. */
  heed(signal: number): void {
    this.#watched[signal] = 1;
    this.heedLimits(signal);
  }

  /** The same for somebody who says with `quieten` within what values nothing comes of a change. */
  heedLimits(signal: number): void {
    this.quieten(signal, NaN, NaN);
    this.#heeded[signal] = 1;
    if (this.#resting[signal] === 0) return;
    this.#resting[signal] = 0;
    const isListed = this.fresh.subarray(0, this.freshCount).includes(signal);
    if (!isListed) this.marks[signal] &= Mark.touched;
  }

  /**
   * From now on `fresh` holds what may change somebody's mind and no more: a signal that is not heeded
   * is on it for its first value, one that is heeded while it is not good or not quiet.
   */
  leaveOutUnheeded(): void {
    this.#leavesOut = true;
  }

  /** Good values of a signal that lie between two others, without them, change no rule's mind. */
  quieten(signal: number, above: number, below: number): void {
    this.#quiet[2 * signal] = above;
    this.#quiet[2 * signal + 1] = below;
  }

  /** Whether the present value of a signal changes no rule's mind. */
  isQuiet(signal: number): boolean {
    const value = this.values[signal];
    return value > this.#quiet[2 * signal] && value < this.#quiet[2 * signal + 1] &&
      this.qualities[signal] === Quality.good;
  }

  /** Subjects of a group in the order in which they were named or first heard. */
  subjectsOf(group: string): readonly string[] {
    return this.#subjects.get(group) ?? [];
  }

  /** Makes a subject known before any of its signals is (one that the boat file names). */
  addSubject(group: string, subject: string): void {
    if (subject === "") return;
    const known = this.#subjects.get(group);
    if (known === undefined) this.#subjects.set(group, [subject]);
    else if (!known.includes(subject)) known.push(subject);
    else return;
    this.subjectCount++;
    this.freshHeeded = 1;
  }

  addCarrier(): number {
    if (this.carrierCount === this.carrierHeard.length) {
      this.carrierHeard = grown(this.carrierHeard, new Float64Array(this.carrierCount * 2));
      this.carrierMessages = grown(this.carrierMessages, new Float64Array(this.carrierCount * 2));
    }
    return this.carrierCount++;
  }

  /** Steady time of the last message that carried the signal, whatever it said; 0 never. */
  heardAt(signal: number): Micros {
    const carrier = this.carriers[signal];
    return carrier < 0 ? 0 : this.carrierHeard[carrier];
  }

  /** @param quality a `Quality` @param reason a `Reason` */
  set(signal: number, value: number, quality: number, reason: number, now: Micros): void {
    this.values[signal] = value;
    this.qualities[signal] = quality;
    this.reasons[signal] = reason;
    this.changedAt[signal] = now;
    this.mark(signal);
  }

  /** Puts a signal on both lists of changes, once. */
  mark(signal: number): void {
    const marks = this.marks[signal];
    if (marks === Mark.both) return;
    if ((marks & Mark.touched) === 0) this.touched[this.touchedCount++] = signal;
    this.marks[signal] = marks | Mark.touched;
    if ((marks & Mark.fresh) !== 0) return;
    if (this.#leavesOut && this.#watched[signal] === 0 && this.isQuiet(signal)) return;
    this.marks[signal] = Mark.both;
    this.fresh[this.freshCount++] = signal;
    this.freshHeeded |= this.#heeded[signal];
  }

  clearFresh(): void {
    const { fresh, freshCount, marks } = this;
    const resting = this.#resting;
    for (let i = 0; i < freshCount; i++) {
      const signal = fresh[i];
      marks[signal] = (marks[signal] & Mark.touched) | resting[signal];
    }
    this.freshCount = 0;
    this.freshHeeded = 0;
  }

  clearTouched(): void {
    const { touched, touchedCount, marks } = this;
    for (let i = 0; i < touchedCount; i++) marks[touched[i]] &= Mark.fresh;
    this.touchedCount = 0;
  }

  /** The word for the present code of an enumerated signal, or undefined. */
  word(signal: number): string | undefined {
    return this.facts[signal].words?.get(this.values[signal]);
  }

  #grow(): void {
    const size = this.values.length * 2;
    this.values = grown(this.values, new Float64Array(size));
    this.qualities = grown(this.qualities, new Uint8Array(size));
    this.reasons = grown(this.reasons, new Uint8Array(size));
    this.carriers = grown(this.carriers, new Int32Array(size));
    this.changedAt = grown(this.changedAt, new Float64Array(size));
    this.fresh = grown(this.fresh, new Int32Array(size));
    this.touched = grown(this.touched, new Int32Array(size));
    this.#heeded = grown(this.#heeded, new Uint8Array(size));
    this.marks = grown(this.marks, new Uint8Array(size));
    this.#resting = grown(this.#resting, new Uint8Array(size));
    this.#watched = grown(this.#watched, new Uint8Array(size));
    this.#quiet = grown(this.#quiet, new Float64Array(size * 2).fill(NaN));
  }
}

/** Bits of `SignalTable.marks`. */
export const Mark = { fresh: 1, touched: 2, both: 3 } as const;

const INITIAL = 256;

function grown<T extends Float64Array | Int32Array | Uint8Array>(from: T, to: T): T {
  to.set(from);
  return to;
}
