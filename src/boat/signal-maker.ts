import type { Binder } from "./binder.ts";
import { type Carriers, REFUSED_SIGNAL } from "./carriers.ts";
import type { EngineConditions } from "./engine-conditions.ts";
import type { MessageLayouts } from "./message-layouts.ts";
import { signalFacts } from "./naming.ts";
import type { SharedSignals } from "./shared-signals.ts";
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
    readonly shared: SharedSignals,
    readonly engines: EngineConditions,
  ) {}

  /** The number of the signal; below 0 where there is none, or another message brings it now. */
  make(carrier: number, slot: number): number {
    const facts = this.#factsOf(carrier, slot);
    return facts === undefined ? this.#refuse(slot) : this.give(carrier, slot, facts);
  }

  /** The same for a slot whose facts are no layout's. */
  give(carrier: number, slot: number, facts: SignalFacts): number {
    const { carriers } = this;
    const { table } = carriers;
    const known = table.find(facts.name);
    if (known < 0 && table.count >= MOST_SIGNALS) return this.#refuse(slot);
    const signal = known < 0 ? table.intern(facts) : known;
    const other = table.carriers[signal];
    carriers.signal[slot] = signal;
    if (this.#areOtherKinds(carrier, other)) {
      this.shared.share(carrier, slot, other, signal);
      this.shared.settle(carrier);
    } else {
      this.#noteSharing(carrier, other);
      table.carriers[signal] = carrier;
    }
    this.engines.notice(carrier, signal);
    return carriers.signal[slot];
  }

  #refuse(slot: number): number {
    this.refused++;
    this.carriers.signal[slot] = REFUSED_SIGNAL;
    return REFUSED_SIGNAL;
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

  /** Carriers of two kinds of message, or of two senders that speak for different things. */
  #areOtherKinds(carrier: number, other: number): boolean {
    const { bus, claim, layout, source } = this.carriers;
    if (other < 0 || layout[other] < 0 || claim[other] === claim[carrier]) return false;
    const { row } = this.layouts;
    return row[layout[other]] !== row[layout[carrier]] || bus[other] !== bus[carrier] ||
      source[other] !== source[carrier];
  }

  /** Two forms of one message that bring one signal must not trust their own last bits. */
  #noteSharing(carrier: number, other: number): void {
    const { claim, needsLook, shares } = this.carriers;
    if (other < 0 || claim[other] === claim[carrier]) return;
    for (const one of [carrier, other]) {
      shares[one] = 1;
      needsLook[one] = 1;
    }
  }
}
