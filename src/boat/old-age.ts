import { type Micros, SECOND } from "../ground/time.ts";
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
 * Tells which carriers have grown old, at the instant when they do. A message costs this nothing:
 * `nextDue` is the earliest instant at which a carrier could be old, as far as was known when it was
 * last worked out; when it comes, all carriers are looked through once and it is worked out anew. On
 * a busy bus that is about once a second.
 */
export class OldAge {
  nextDue: Micros = Infinity;

  constructor(readonly carriers: Carriers) {}

  /** Counts a carrier as alive from a message on. */
  begin(carrier: number, now: Micros): void {
    const { alive, oldAge } = this.carriers;
    if (alive[carrier] === 1) return;
    alive[carrier] = 1;
    this.nextDue = Math.min(this.nextDue, now + oldAge[carrier]);
  }

  /** Gives a carrier another old age from a message on. */
  change(carrier: number, oldAge: Micros, now: Micros): void {
    if (this.carriers.oldAge[carrier] === oldAge) return;
    this.carriers.oldAge[carrier] = oldAge;
    this.nextDue = Math.min(this.nextDue, now + oldAge);
  }

  /**
   * At `nextDue`: the carriers that grow old at this instant, in the order of their numbers; often
   * none, because they were heard since.
   */
  grownOld(): number[] {
    const { alive, needsLook, oldAge, table } = this.carriers;
    const due = this.nextDue;
    const old: number[] = [];
    let next = Infinity;
    for (let carrier = 0; carrier < table.carrierCount; carrier++) {
      if (alive[carrier] === 0) continue;
      const end = table.carrierHeard[carrier] + oldAge[carrier];
      if (end > due) {
        if (end < next) next = end;
        continue;
      }
      alive[carrier] = 0;
      needsLook[carrier] = 1;
      old.push(carrier);
    }
    this.nextDue = next;
    return old;
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
