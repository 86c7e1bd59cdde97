import type { SignalTable } from "../boat/signal-table.ts";
import { isCredible } from "../ground/clock.ts";
import { type Micros, MINUTE } from "../ground/time.ts";
import { roundTo } from "../units/rounding.ts";
import { type HistoryPlan, lengthOf, minuteOf } from "./history-plan.ts";
import type { MinuteRecord } from "./minute-record.ts";
import { Minutes } from "./minutes.ts";

export interface RecorderParts {
  readonly table: SignalTable;
  readonly plan: HistoryPlan;
  /** Whether a rule judges or watches the signal. */
  readonly isNamed: (signal: number) => boolean;
  /** Wall time of a steady time, as far as anybody knows. */
  readonly wallOf: (steady: Micros) => Micros;
}

/** What one look at the clock has finished. */
export interface FinishedMinutes {
  readonly records: readonly MinuteRecord[];
  /** Minutes are counted by the steady clock: nobody knows the time yet. */
  readonly provisional: boolean;
}

/** After so long without a call nobody knows what stood in between. */
const LONGEST_STANDSTILL: Micros = 10 * MINUTE;
const UNDECIDED = -2;
const NOT_KEPT = -1;
/** Decimals of a mean beyond those of its values. */
const FINER = 3;

/**
 * Follows the signals message by message and finishes their minutes. Where the clock becomes known,
 * what was finished before is to be moved on by `shift` minutes; no minute is told twice, since the
 * minute that was open then goes on under its true name.
 *
 * Order of calls: `take` after each message and timer, `reach` once a turn, `drain` after it.
 */
export class HistoryRecorder {
  /** Minutes from provisional to true time, once known; then provisional records can be moved. */
  shift: number | undefined;
  readonly #minutes = new Minutes();
  /** By signal. */
  #slotOf = new Int32Array(0);
  readonly #kept: KeptSignal[] = [];
  #isCredible = false;
  /** First minute of the open interval, in true or provisional minutes; steady time of its end. */
  #minute = 0;
  #end: Micros = -Infinity;
  #reached: Micros = -Infinity;
  #finished: FinishedMinutes[] = [];

  constructor(readonly parts: RecorderParts) {}

  /** Notes what the signals in the table's list of fresh ones are now. */
  take(now: Micros): void {
    if (now >= this.#end) this.reach(now);
    const { table } = this.parts;
    if (table.count > this.#slotOf.length) this.#grow();
    for (let i = 0; i < table.freshCount; i++) {
      const signal = table.fresh[i];
      const slot = this.#slotOf[signal];
      if (slot >= 0) this.#minutes.change(slot, table.values[signal], now);
      else if (slot === UNDECIDED) this.#decide(signal, now);
    }
  }

  /** Finishes what has ended by now. */
  reach(now: Micros): void {
    if (this.#end === -Infinity) this.#begin(now);
    else if (!this.#isCredible) this.#lookAtClock(now);
    if (now - this.#reached > LONGEST_STANDSTILL && now >= this.#end) {
      this.#close(this.#reached);
      this.#minutes.skipTo(now);
      this.#begin(now);
    }
    this.#reached = now;
    while (now >= this.#end) {
      this.#close(this.#end);
      this.#open(this.#end);
    }
  }

  /** Ends the open minute early, whole or not: nothing more will come. */
  finish(): void {
    if (this.#end === -Infinity) return;
    // What came at this very instant belongs to it.
    this.#close(this.#reached + 1);
    this.#end = -Infinity;
  }

  /** What was finished since the last call, oldest first. */
  drain(): readonly FinishedMinutes[] {
    const finished = this.#finished;
    if (finished.length > 0) this.#finished = [];
    return finished;
  }

  #begin(now: Micros): void {
    this.#isCredible = isCredible(this.parts.wallOf(now));
    this.#reached = now;
    this.#open(now);
  }

  /** The wall clock was set: the open minute gets its true name and ends with the true minute. */
  #lookAtClock(now: Micros): void {
    const { wallOf } = this.parts;
    if (!isCredible(wallOf(now))) return;
    this.#isCredible = true;
    const offset = wallOf(now) - now;
    const started = this.#minute * MINUTE + offset;
    this.shift = minuteOf(started) - this.#minute;
    this.#minute += this.shift;
    this.#end = (this.#minute + 1) * MINUTE - offset;
  }

  #open(now: Micros): void {
    const offset = this.#isCredible ? this.parts.wallOf(now) - now : 0;
    this.#minute = minuteOf(now + offset);
    this.#end = (this.#minute + 1) * MINUTE - offset;
  }

  #close(at: Micros): void {
    const records: MinuteRecord[] = [];
    for (const kept of this.#kept) {
      if ((this.#minute + 1) % kept.length === 0) this.#closeOne(kept, at, records);
    }
    this.#decideAll(at);
    if (records.length === 0) return;
    this.#finished.push({ records, provisional: !this.#isCredible });
  }

  #closeOne(kept: KeptSignal, at: Micros, records: MinuteRecord[]): void {
    const { signal, slot, length } = kept;
    const { table } = this.parts;
    const { name, unit, decimals, words } = table.facts[signal];
    const heard = messagesBefore(table, signal, at);
    const count = Math.max(0, heard - kept.heard);
    kept.heard = heard;
    if (!this.#minutes.close(slot, at)) return;
    const { min, mean, max, last } = this.#minutes;
    const place = { name, minute: this.#minute - length + 1, length, count };
    if (words !== null) {
      records.push({ ...place, word: words.get(last) ?? `code-${last}` });
    } else {
      const finer = Math.min(9, decimals + FINER);
      records.push({
        ...place,
        unit,
        decimals,
        min: roundTo(min, decimals),
        mean: roundTo(mean, finer),
        max: roundTo(max, decimals),
      });
    }
  }

  /** Rules unfold over what is heard: what none named before may be named now. */
  #decideAll(now: Micros): void {
    for (let signal = 0; signal < this.#slotOf.length; signal++) {
      if (this.#slotOf[signal] >= 0 || signal >= this.parts.table.count) continue;
      this.#decide(signal, now);
      if (this.#slotOf[signal] === UNDECIDED) this.#slotOf[signal] = NOT_KEPT;
    }
  }

  #decide(signal: number, now: Micros): void {
    const { table, plan, isNamed } = this.parts;
    const { name, unit, group } = table.facts[signal];
    const length = lengthOf(plan, name, isNamed(signal));
    if (length === 0) return;
    const isAngle = unit === "deg" && group !== "position";
    const slot = this.#minutes.add(table.values[signal], isAngle, now);
    this.#slotOf[signal] = slot;
    this.#kept.push({ signal, slot, length, heard: messagesBefore(table, signal, now) });
  }

  #grow(): void {
    const slotOf = new Int32Array(Math.max(64, 2 * this.parts.table.count)).fill(UNDECIDED);
    slotOf.set(this.#slotOf);
    this.#slotOf = slotOf;
  }
}

interface KeptSignal {
  readonly signal: number;
  readonly slot: number;
  readonly length: number;
  /** Messages that had brought it when its interval began. */
  heard: number;
}

/** Messages that had brought a signal before a time; the one taken just now may be of that time. */
function messagesBefore(table: SignalTable, signal: number, time: Micros): number {
  const carrier = table.carriers[signal];
  if (carrier < 0) return 0;
  return table.carrierMessages[carrier] - (table.carrierHeard[carrier] >= time ? 1 : 0);
}
