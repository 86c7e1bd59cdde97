import { type Micros, SECOND } from "../ground/time.ts";
import type { TimerHeap } from "../ground/timer-heap.ts";
import type { Carriers } from "./carriers.ts";
import { Quality, Reason } from "./quality.ts";

/** When a value that is not heard again stops being good (contract §3). */
export interface OldAgeSettings {
  /** Usual periods that may pass. */
  readonly periods: number;
  readonly least: Micros;
}

export const OLD_AGES: OldAgeSettings = { periods: 3, least: SECOND };

/** @param period null: sent on change or on request, so it never ages (Infinity) */
export function oldAgeFor(period: Micros | null, settings: OldAgeSettings): Micros {
  return period === null ? Infinity : Math.max(settings.least, settings.periods * period);
}

/**
 * The timer of each carrier's old age; its number is the carrier's. A message does not move it (that
 * would cost every message a walk through the heap): when it falls due and the carrier was heard
 * since, it is set again for what is left.
 */
export class OldAge {
  constructor(readonly carriers: Carriers, readonly timers: TimerHeap) {}

  /** Counts a carrier as alive from a message on. */
  begin(carrier: number, now: Micros): void {
    const { alive, oldAge } = this.carriers;
    if (alive[carrier] === 1) return;
    alive[carrier] = 1;
    if (oldAge[carrier] !== Infinity) this.timers.set(carrier, now + oldAge[carrier]);
  }

  /** The timer fell due: true when the carrier has grown old at this instant. */
  isOld(carrier: number, due: Micros): boolean {
    const { alive, needsLook, oldAge, table } = this.carriers;
    const end = table.carrierHeard[carrier] + oldAge[carrier];
    if (end > due) {
      this.timers.set(carrier, end);
      return false;
    }
    alive[carrier] = 0;
    needsLook[carrier] = 1;
    return true;
  }

  /** The signals that this carrier brings are bad from now on: not heard. */
  age(carrier: number, now: Micros): void {
    const { firstSlot, lastRaw, signal, table } = this.carriers;
    for (let slot = firstSlot[carrier]; slot < firstSlot[carrier + 1]; slot++) {
      lastRaw[slot] = NaN;
      const number = signal[slot];
      if (number < 0 || table.carriers[number] !== carrier) continue;
      table.set(number, NaN, Quality.bad, Reason.notHeard, now);
    }
  }
}
