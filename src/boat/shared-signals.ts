import { type Carriers, LEFT_SIGNAL } from "./carriers.ts";
import { Quality } from "./quality.ts";

/**
 * Signals that several kinds of message bring: three PGNs can tell the sea's temperature. Whichever
 * brings a signal keeps it while it has a value; the others are passed over, so that a device that
 * fills one of them with "not available" does not make the signal come and go.
 */
export class SharedSignals {
  /** By carrier: its slots whose signals others bring too. */
  readonly #signals = new Map<number, Map<number, number>>();

  constructor(readonly carriers: Carriers) {}

  /** Notes that `slot` of a carrier has the signal that `other` brings. */
  share(carrier: number, slot: number, other: number, signal: number): void {
    const { firstSlot, signal: signals } = this.carriers;
    this.#note(carrier, slot, signal);
    for (let its = firstSlot[other]; its < firstSlot[other + 1]; its++) {
      if (signals[its] === signal) this.#note(other, its, signal);
    }
  }

  /** Slots of a carrier whose signals others bring too, and those signals. */
  signalsOf(carrier: number): Iterable<readonly [slot: number, signal: number]> {
    return this.#signals.get(carrier) ?? [];
  }

  /** Before a message of a carrier is read: takes the signals that are free, leaves the others. */
  settle(carrier: number): void {
    for (const [slot, signal] of this.#signals.get(carrier) ?? []) {
      const { alive, lastRaw, signal: signals, table } = this.carriers;
      const holder = table.carriers[signal];
      if (holder === carrier) continue;
      const isFree = alive[holder] === 0 || table.qualities[signal] === Quality.bad;
      signals[slot] = isFree ? signal : LEFT_SIGNAL;
      if (!isFree) continue;
      table.carriers[signal] = carrier;
      lastRaw[slot] = NaN;
    }
  }

  #note(carrier: number, slot: number, signal: number): void {
    const { needsLook, shares } = this.carriers;
    const own = this.#signals.get(carrier) ?? new Map<number, number>();
    this.#signals.set(carrier, own.set(slot, signal));
    shares[carrier] = 1;
    needsLook[carrier] = 1;
  }
}
