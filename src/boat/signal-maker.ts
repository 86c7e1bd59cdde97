import type { Binder } from "./binder.ts";
import { type Carriers, REFUSED_SIGNAL } from "./carriers.ts";
import type { EngineConditions } from "./engine-conditions.ts";
import type { MessageLayouts } from "./message-layouts.ts";
import { signalFacts } from "./naming.ts";
import type { SignalFacts } from "./signal-table.ts";

/** Far more than a boat has; beyond it a bus is making them up. */
export const MOST_SIGNALS = 8192;

/** Makes the signal of a slot when its first value comes. */
export class SignalMaker {
  /** Signals that were not made because there are too many. */
  refused = 0;

  constructor(
    readonly binder: Binder,
    readonly layouts: MessageLayouts,
    readonly carriers: Carriers,
    readonly engines: EngineConditions,
  ) {}

  /** The number of the signal, or `REFUSED_SIGNAL`. */
  make(carrier: number, slot: number): number {
    const { carriers } = this;
    const { table } = carriers;
    const facts = this.#factsOf(carrier, slot);
    const known = facts === undefined ? -1 : table.find(facts.name);
    if (facts === undefined || (known < 0 && table.count >= MOST_SIGNALS)) {
      this.refused++;
      carriers.signal[slot] = REFUSED_SIGNAL;
      return REFUSED_SIGNAL;
    }
    const signal = known < 0 ? table.intern(facts) : known;
    this.#noteSharing(carrier, table.carriers[signal]);
    carriers.signal[slot] = signal;
    table.carriers[signal] = carrier;
    this.engines.notice(carrier, signal);
    return signal;
  }

  #factsOf(carrier: number, slot: number): SignalFacts | undefined {
    const bound = this.binder.bound[carrier];
    if (bound === undefined) return undefined;
    const { carriers, layouts } = this;
    const facts = layouts.slots[carriers.layout[carrier]][slot - carriers.firstSlot[carrier]];
    const { indicator } = facts.signal;
    const named = indicator === undefined ? undefined : this.binder.indicatorOf(carrier, indicator);
    if (named === undefined) return signalFacts(facts, bound.subject);
    const { subject, key } = named;
    carriers.inverted[slot] = key.inverted === true ? 1 : 0;
    return signalFacts(
      { ...facts, quantity: key.quantity },
      { group: subject.group, name: subject.name, described: subject },
    );
  }

  /** Two kinds of message that bring one signal must not trust their own last bits. */
  #noteSharing(carrier: number, other: number): void {
    const { claim, needsLook, shares } = this.carriers;
    if (other < 0 || claim[other] === claim[carrier]) return;
    for (const one of [carrier, other]) {
      shares[one] = 1;
      needsLook[one] = 1;
    }
  }
}
