import { type Micros, MINUTE } from "../ground/time.ts";
import type { TimerHeap } from "../ground/timer-heap.ts";
import { type Carriers, MOST_CARRIERS } from "./carriers.ts";
import { Quality, Reason } from "./quality.ts";

/** One of two senders must have been quiet for this long before the other is believed again. */
const QUIET: Micros = MINUTE;

/**
 * Two devices that speak for one subject (contract §3). Which of them is right cannot be known, so
 * nothing is averaged, alternated or failed over: the values stay those of the sender that was there
 * first, and they are uncertain. When one has been quiet for a minute the other is believed, from
 * its next message on. A sender that begins after the first has grown old simply succeeds it.
 *
 * A *claim* is what a sender speaks for: a kind of message and a subject. Its timer has its number.
 */
export class TwoSenders {
  /** By claim: the carrier whose values count; −1 none yet. */
  readonly holder = new Int16Array(MOST_CARRIERS).fill(-1);
  /** By claim: 1 while two speak for it. */
  readonly contested = new Uint8Array(MOST_CARRIERS);
  /** Goes up whenever a claim becomes or ceases to be contested. */
  version = 0;
  readonly #rivals = new Map<number, Set<number>>();
  /** By carrier: 1 while it is among the rivals of its claim. */
  readonly #isRival = new Uint8Array(MOST_CARRIERS);

  constructor(readonly carriers: Carriers, readonly timers: TimerHeap) {}

  /**
   * Whether a message's values count. Asked for the messages of carriers that need a look.
   * @param speaks whether it has any value
   */
  admit(carrier: number, speaks: boolean, now: Micros): boolean {
    const claim = this.carriers.claim[carrier];
    const holder = this.holder[claim];
    if (holder === carrier) return true;
    if (this.#isRival[carrier] === 1) return false;
    if (holder < 0) {
      this.holder[claim] = carrier;
      return true;
    }
    const { rank } = this.carriers;
    if (rank[carrier] !== rank[holder]) return this.#standsIn(claim, carrier, speaks);
    if (this.contested[claim] === 1) {
      this.#addRival(claim, carrier);
      return false;
    }
    const quietFor = now - this.carriers.table.carrierHeard[holder];
    if (quietFor < Math.min(this.carriers.oldAge[holder], QUIET)) {
      this.#begin(claim, holder, carrier, now);
      return false;
    }
    this.#succeed(claim, carrier);
    return true;
  }

  /** Whether the carrier's growing old leaves its signals unheard. */
  leavesUnheard(carrier: number): boolean {
    const claim = this.carriers.claim[carrier];
    if (this.contested[claim] === 0) return this.holder[claim] === carrier;
    return this.sendersOf(claim).every((sender) => this.carriers.alive[sender] === 0);
  }

  /** The timer of a claim fell due: true when it is no longer contested from this instant on. */
  settle(claim: number, due: Micros): boolean {
    const { carrierHeard } = this.carriers.table;
    const byTime = this.sendersOf(claim).sort((a, b) => carrierHeard[b] - carrierHeard[a]);
    const end = carrierHeard[byTime[1]] + QUIET;
    if (end > due) {
      this.timers.set(claim, end);
      return false;
    }
    this.contested[claim] = 0;
    this.version++;
    for (const rival of this.#rivals.get(claim) ?? []) this.#isRival[rival] = 0;
    this.#rivals.delete(claim);
    const [latest] = byTime;
    if (latest === this.holder[claim]) this.doubt(latest, false, due);
    else this.#succeed(claim, latest);
    return true;
  }

  /** Carriers that speak for a claim, as long as it is contested. */
  sendersOf(claim: number): number[] {
    return [this.holder[claim], ...this.#rivals.get(claim) ?? []];
  }

  /**
   * Of a device that the boat file names and its stand-in, the first counts from the moment when it
   * has a value; the stand-in counts while the first has none, or is not heard.
   */
  #standsIn(claim: number, carrier: number, speaks: boolean): boolean {
    const { alive, rank } = this.carriers;
    const holder = this.holder[claim];
    const mayTake = rank[carrier] < rank[holder] || alive[holder] === 0 || !this.#hasValue(holder);
    if (!speaks || !mayTake) return false;
    this.#succeed(claim, carrier);
    return true;
  }

  #hasValue(carrier: number): boolean {
    const { firstSlot, signal, table } = this.carriers;
    for (let slot = firstSlot[carrier]; slot < firstSlot[carrier + 1]; slot++) {
      const number = signal[slot];
      if (number >= 0 && table.qualities[number] !== Quality.bad) return true;
    }
    return false;
  }

  #begin(claim: number, holder: number, rival: number, now: Micros): void {
    this.contested[claim] = 1;
    this.version++;
    this.#addRival(claim, rival);
    this.carriers.needsLook[holder] = 1;
    this.doubt(holder, true, now);
    const { carrierHeard } = this.carriers.table;
    this.timers.set(claim, carrierHeard[holder] + QUIET);
  }

  #addRival(claim: number, carrier: number): void {
    const rivals = this.#rivals.get(claim) ?? new Set();
    this.#rivals.set(claim, rivals.add(carrier));
    this.#isRival[carrier] = 1;
  }

  #succeed(claim: number, carrier: number): void {
    this.carriers.needsLook[this.holder[claim]] = 1;
    this.carriers.needsLook[carrier] = 1;
    this.carriers.inherit(carrier, this.holder[claim]);
    this.holder[claim] = carrier;
  }

  /** Values that are good become uncertain, and good again; what is bad stays so. */
  doubt(carrier: number, doubted: boolean, now: Micros): void {
    const { firstSlot, signal, table } = this.carriers;
    const before = doubted ? Quality.good : Quality.uncertain;
    const quality = doubted ? Quality.uncertain : Quality.good;
    const reason = doubted ? Reason.twoSenders : Reason.none;
    for (let slot = firstSlot[carrier]; slot < firstSlot[carrier + 1]; slot++) {
      const number = signal[slot];
      if (number < 0 || table.carriers[number] !== carrier) continue;
      if (table.qualities[number] !== before) continue;
      table.set(number, table.values[number], quality, reason, now);
    }
  }
}
