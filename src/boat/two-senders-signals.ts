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
  /** By signal: what is contested of its subject, each under a number of its own. */
  readonly #contested = new Map<number, Set<number>>();

  constructor(readonly carriers: Carriers, readonly senders: TwoSenders) {}

  /** After a claim became or ceased to be contested. */
  follow(claim: number, subject: NamedSubject, now: Micros): void {
    this.#note(subject, claim, this.senders.contested[claim] === 1, now);
  }

  /** After a single signal did, which two devices bring in different kinds of message. */
  followShared(shared: number, isContested: boolean, now: Micros): void {
    const { group, subject: name } = this.carriers.table.facts[shared];
    // Claims have the numbers from 0 up.
    this.#note({ group, name, described: null }, -1 - shared, isContested, now);
  }

  #note(subject: NamedSubject, what: number, isContested: boolean, now: Micros): void {
    const { table } = this.carriers;
    const signal = this.#signalOf(subject);
    if (signal < 0) return;
    const contested = this.#contested.get(signal) ?? new Set();
    this.#contested.set(signal, contested);
    if (isContested) contested.add(what);
    else contested.delete(what);
    const value = contested.size > 0 ? 1 : 0;
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
