import type { Micros } from "../ground/time.ts";
import type { SignalTable } from "./signal-table.ts";

/** More senders times instances than any boat has; beyond it a bus is making them up. */
export const MOST_CARRIERS = 1024;

/** Signal number of a slot that has none yet, and of one that got none because there are too many. */
export const NO_SIGNAL = -1;
export const REFUSED_SIGNAL = -2;
/** Of a slot whose signal another kind of message brings at present. */
export const LEFT_SIGNAL = -3;

/**
 * What brings signals: the messages of one kind from one sender about one subject. Numbers are those
 * of `SignalTable.addCarrier`, so that everything about a carrier lies in typed arrays. Derivations
 * are carriers without slots.
 *
 * A slot is a signal of one carrier. `lastRaw` remembers the bits that the carrier last sent for it;
 * NaN: read the next message whatever it says.
 */
export class Carriers {
  readonly layout = new Int16Array(MOST_CARRIERS).fill(-1);
  /** What a sender claims to speak for; two carriers with one claim are two senders. -1: none. */
  readonly claim = new Int16Array(MOST_CARRIERS).fill(-1);
  /** Infinity: never ages. */
  readonly oldAge = new Float64Array(MOST_CARRIERS).fill(Infinity);
  /** 1: the next message needs more than decoding (first message, aged, two senders, shared). */
  readonly needsLook = new Uint8Array(MOST_CARRIERS).fill(1);
  /** 1: heard and not yet old. */
  readonly alive = new Uint8Array(MOST_CARRIERS);
  readonly firstSlot = new Int32Array(MOST_CARRIERS + 1);
  /** 1: another kind of message brings one of its signals too. */
  readonly shares = new Uint8Array(MOST_CARRIERS);
  /** Where the boat file names who counts: 1 that device, 2 its stand-in; 0 elsewhere. */
  readonly rank = new Uint8Array(MOST_CARRIERS);
  /** 1: two devices have the sender's address. */
  readonly doubted = new Uint8Array(MOST_CARRIERS);
  readonly bus = new Uint8Array(MOST_CARRIERS);
  readonly source = new Uint8Array(MOST_CARRIERS);

  lastRaw = new Float64Array(1024).fill(NaN);
  signal = new Int32Array(1024).fill(NO_SIGNAL);
  /** 1: on means off. */
  inverted = new Uint8Array(1024);
  #slots = 0;

  constructor(readonly table: SignalTable) {}

  get full(): boolean {
    return this.table.carrierCount >= MOST_CARRIERS;
  }

  /** @throws {RangeError} when full */
  add(layout: number, slots: number, oldAge: Micros): number {
    if (this.full) throw new RangeError(`more than ${MOST_CARRIERS} carriers`);
    const carrier = this.table.addCarrier();
    this.layout[carrier] = layout;
    this.oldAge[carrier] = oldAge;
    this.firstSlot[carrier] = this.#slots;
    this.#slots += slots;
    this.firstSlot[carrier + 1] = this.#slots;
    while (this.#slots > this.signal.length) this.#grow();
    return carrier;
  }

  /**
   * Makes a carrier the one that brings its signals: those that another brought last are read anew
   * from the next message.
   */
  takeOver(carrier: number): void {
    for (let slot = this.firstSlot[carrier]; slot < this.firstSlot[carrier + 1]; slot++) {
      const signal = this.signal[slot];
      if (signal < 0 || this.table.carriers[signal] === carrier) continue;
      this.table.carriers[signal] = carrier;
      this.lastRaw[slot] = NaN;
    }
  }

  /** The signals that a carrier brings, or another in its place. */
  signalsOf(carrier: number): number[] {
    const slots = this.signal.subarray(this.firstSlot[carrier], this.firstSlot[carrier + 1]);
    return [...slots].filter((signal) => signal >= 0);
  }

  /** Gives a carrier the signals of another with the same claim, and makes it bring them. */
  inherit(carrier: number, from: number): void {
    const length = this.firstSlot[carrier + 1] - this.firstSlot[carrier];
    for (let i = 0; i < length; i++) {
      const slot = this.firstSlot[carrier] + i;
      const source = this.firstSlot[from] + i;
      if (this.signal[slot] !== NO_SIGNAL || this.signal[source] === LEFT_SIGNAL) continue;
      this.signal[slot] = this.signal[source];
      this.inverted[slot] = this.inverted[source];
    }
    this.takeOver(carrier);
  }

  #grow(): void {
    const size = this.signal.length * 2;
    const lastRaw = new Float64Array(size).fill(NaN);
    lastRaw.set(this.lastRaw);
    this.lastRaw = lastRaw;
    const signal = new Int32Array(size).fill(NO_SIGNAL);
    signal.set(this.signal);
    this.signal = signal;
    const inverted = new Uint8Array(size);
    inverted.set(this.inverted);
    this.inverted = inverted;
  }
}
