import type { Micros } from "../ground/time.ts";
import type { Carriers } from "./carriers.ts";
import { type NamedSubject, signalName } from "./naming.ts";
import { Quality, Reason } from "./quality.ts";
import type { TwoSenders } from "./two-senders.ts";

/**
 * Derives `GROUP/SUBJECT/two-senders`: 1 while two devices speak for the subject, in whichever kind
 * of message. The signal is made when that happens for the first time.
 */
export class TwoSendersSignals {
  readonly #contestedClaims = new Map<number, Set<number>>();

  constructor(readonly carriers: Carriers, readonly senders: TwoSenders) {}

  /** After a claim became or ceased to be contested. */
  follow(claim: number, subject: NamedSubject, now: Micros): void {
    const { table } = this.carriers;
    const signal = this.#signalOf(subject);
    if (signal < 0) return;
    const claims = this.#contestedClaims.get(signal) ?? new Set();
    this.#contestedClaims.set(signal, claims);
    if (this.senders.contested[claim] === 1) claims.add(claim);
    else claims.delete(claim);
    const value = claims.size > 0 ? 1 : 0;
    table.carrierHeard[table.carriers[signal]] = now;
    if (table.values[signal] !== value) table.set(signal, value, Quality.good, Reason.none, now);
  }

  #signalOf({ group, name: subject }: NamedSubject): number {
    const { table } = this.carriers;
    const name = signalName(group, subject, "two-senders");
    const known = table.find(name);
    if (known >= 0 || this.carriers.full) return known;
    const signal = table.intern({
      name,
      group,
      subject,
      quantity: "two-senders",
      unit: "1",
      decimals: 0,
      words: null,
      span: null,
      derived: true,
    });
    table.carriers[signal] = this.carriers.add(-1, 0, Infinity);
    return signal;
  }
}
