import type { SignalFacts, SignalTable } from "../../boat/signal-table.ts";
import type { Micros } from "../../ground/time.ts";
import { TimerHeap } from "../../ground/timer-heap.ts";

export interface ReportSettings {
  /** A value is sent at most this often; its last change when this time ends. */
  readonly fastest: Micros;
  /** Every signal is sent at least this often. */
  readonly slowest: Micros;
  /** Changes up to this size, in the signal's unit, are not worth a message. */
  readonly deadbandOf: (facts: SignalFacts) => number;
}

/** Half a percent of the signal's usual range; where the table has none, its last decimal shown. */
export function usualDeadband({ span, words, decimals }: SignalFacts): number {
  if (words !== null) return 0;
  const step = 10 ** -decimals / 2;
  return span === null ? step : Math.max(step, span / 200);
}

/**
 * Decides which signals are worth a message (contract §4): beyond the deadband, not faster than
 * `fastest`, not slower than `slowest`; a change of quality at once. Signals are numbers and all
 * state lies in typed arrays, since this runs on every turn.
 */
export class ReportByException {
  /** Signals to send: `due[0]` to `due[dueCount - 1]`; overwritten by the next judgement. */
  due = new Int32Array(0);
  dueCount = 0;
  #sentAt = new Float64Array(0);
  #sentValue = new Float64Array(0);
  #sentQuality = new Uint8Array(0);
  #sentReason = new Uint8Array(0);
  #deadband = new Float64Array(0);
  /** Signals for which `#deadband` is known. */
  #known = 0;
  readonly #timers = new TimerHeap();

  constructor(readonly table: SignalTable, readonly settings: ReportSettings) {}

  /** Judges the signals that changed, and those whose time has come. */
  judge(signals: Int32Array, count: number, now: Micros): void {
    this.#begin();
    for (let i = 0; i < count; i++) this.#examine(signals[i], now);
    while (this.#timers.nextDue <= now) this.#examine(this.#timers.take(), now);
  }

  /** Judges every signal: after turns that could not be judged. */
  judgeAll(now: Micros): void {
    this.#begin();
    for (let signal = 0; signal < this.table.count; signal++) this.#examine(signal, now);
  }

  /** Nothing counts as sent any more: the broker may have forgotten everything. */
  forget(): void {
    this.#sentAt.fill(-Infinity);
  }

  #examine(signal: number, now: Micros): void {
    const { values, qualities, reasons } = this.table;
    const since = now - this.#sentAt[signal];
    const changed = Math.abs(values[signal] - this.#sentValue[signal]) > this.#deadband[signal];
    const atOnce = qualities[signal] !== this.#sentQuality[signal] ||
      reasons[signal] !== this.#sentReason[signal];
    const { fastest, slowest } = this.settings;
    if (atOnce || since >= slowest || (changed && since >= fastest)) {
      this.due[this.dueCount++] = signal;
      this.#sentAt[signal] = now;
      this.#sentValue[signal] = values[signal];
      this.#sentQuality[signal] = qualities[signal];
      this.#sentReason[signal] = reasons[signal];
      this.#timers.set(signal, now + slowest);
    } else {
      this.#timers.set(signal, this.#sentAt[signal] + (changed ? fastest : slowest));
    }
  }

  /** Empties `due` and makes room for signals that are new in the table. */
  #begin(): void {
    this.dueCount = 0;
    const { count, facts } = this.table;
    if (count > this.due.length) this.#growTo(2 * count);
    for (; this.#known < count; this.#known++) {
      this.#deadband[this.#known] = this.settings.deadbandOf(facts[this.#known]);
    }
  }

  #growTo(size: number): void {
    const old = this.#sentAt.length;
    this.due = new Int32Array(size);
    this.#sentAt = copied(this.#sentAt, new Float64Array(size)).fill(-Infinity, old);
    this.#sentValue = copied(this.#sentValue, new Float64Array(size));
    this.#sentQuality = copied(this.#sentQuality, new Uint8Array(size));
    this.#sentReason = copied(this.#sentReason, new Uint8Array(size));
    this.#deadband = copied(this.#deadband, new Float64Array(size));
  }
}

function copied<T extends Float64Array | Uint8Array>(from: T, to: T): T {
  to.set(from);
  return to;
}
