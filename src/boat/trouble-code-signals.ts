import type { Micros } from "../ground/time.ts";
import type { Columns } from "../nmea2000/columns.ts";
import type { Message } from "../nmea2000/message.ts";
import { type TroubleCode, troubleCodesOf } from "../nmea2000/trouble-codes.ts";
import type { Binder } from "./binder.ts";
import { type Carriers, NO_SIGNAL } from "./carriers.ts";
import { type MessageLayouts, MOST_TROUBLE_CODES } from "./message-layouts.ts";
import { type NamedSubject, signalName } from "./naming.ts";
import { Quality, Reason } from "./quality.ts";
import type { SignalFacts } from "./signal-table.ts";

/**
 * Trouble codes as bits: `engine/port/fault/100-1` is made when its code is active for the first
 * time, 1 while the code stands in the list, 0 when it has gone from it. They take the slots beyond
 * those of the layout, in the order in which they came; senders that follow one another have the
 * same.
 */
export class TroubleCodeSignals {
  /** By claim: names of its codes, by place. */
  readonly #codes = new Map<number, string[]>();

  constructor(
    readonly columns: Columns,
    readonly layouts: MessageLayouts,
    readonly carriers: Carriers,
    readonly binder: Binder,
    readonly give: (carrier: number, slot: number, facts: SignalFacts) => number,
  ) {}

  /** Reads the list at the end of a message: true when a code is active. */
  take(message: Message, carrier: number, contested: boolean, now: Micros): boolean {
    const { row, bytes, start, length } = message;
    const active = troubleCodesOf(this.columns, row, bytes, start, length).map(nameOf);
    const known = this.#codesOf(this.carriers.claim[carrier]);
    for (const code of active) {
      if (known.length < MOST_TROUBLE_CODES && !known.includes(code)) known.push(code);
    }
    const first = this.firstSlot(carrier);
    for (const [place, code] of known.entries()) {
      this.#set(carrier, first + place, code, active.includes(code), contested, now);
    }
    return active.length > 0;
  }

  /** The first slot of a carrier that is a trouble code's. */
  firstSlot(carrier: number): number {
    const { firstSlot, layout } = this.carriers;
    return firstSlot[carrier] + this.layouts.slots[layout[carrier]].length;
  }

  #set(
    carrier: number,
    slot: number,
    code: string,
    isActive: boolean,
    contested: boolean,
    now: Micros,
  ): void {
    const { signal, table } = this.carriers;
    const subject = this.binder.bound[carrier]?.subject;
    if (subject === undefined) return;
    const number = signal[slot] === NO_SIGNAL
      ? this.give(carrier, slot, factsOf(subject, code))
      : signal[slot];
    if (number < 0) return;
    const value = isActive ? 1 : 0;
    const quality = contested ? Quality.uncertain : Quality.good;
    if (table.values[number] === value && table.qualities[number] === quality) return;
    table.set(number, value, quality, contested ? Reason.twoSenders : Reason.none, now);
  }

  #codesOf(claim: number): string[] {
    const known = this.#codes.get(claim) ?? [];
    this.#codes.set(claim, known);
    return known;
  }
}

function nameOf({ spn, fmi }: TroubleCode): string {
  return `${spn}-${fmi}`;
}

function factsOf({ group, name: subject }: NamedSubject, code: string): SignalFacts {
  const quantity = `fault/${code}`;
  return {
    name: signalName(group, subject, quantity),
    group,
    subject,
    quantity,
    unit: "1",
    decimals: 0,
    words: null,
    span: null,
    derived: false,
  };
}
