import type { Boat } from "../../boat/boat.ts";
import { CATALOGUE } from "../../boat/catalogue.ts";
import { CONDITION_WORDS } from "../../boat/engine-condition.ts";
import { MessageLayouts } from "../../boat/message-layouts.ts";
import { signalFacts } from "../../boat/naming.ts";
import type { SignalFacts } from "../../boat/signal-table.ts";
import { placeOfName } from "../../alarms/rules/signal-name.ts";
import { type Micros, MILLISECOND } from "../../ground/time.ts";
import { Columns } from "../../nmea2000/columns.ts";
import { ALL_ROWS } from "../../nmea2000/rows/all.ts";

/** A signal as the boat's own messages would make it. */
export interface SignalKind {
  readonly facts: SignalFacts;
  /** Usual period of its message; Infinity where it is sent on change. */
  readonly period: Micros;
}

type SlotFacts = MessageLayouts["slots"][number][number];

/** How often a condition is worked out where a case says it itself. */
const CONDITION_PERIOD: Micros = 100 * MILLISECOND;

/** What the messages that are known make of a signal's name. */
export class SignalKinds {
  readonly #slots = new Map<string, { slot: SlotFacts; period: Micros }>();
  /** Groups in which an indicator of a switch bank can get its name. */
  readonly #contact: { slot: SlotFacts; period: Micros } | undefined;

  constructor(readonly boat: Boat) {
    const columns = new Columns(ALL_ROWS);
    const layouts = new MessageLayouts(CATALOGUE, columns);
    let contact: { slot: SlotFacts; period: Micros } | undefined;
    for (const [layout, entry] of layouts.entries.entries()) {
      const period = columns.rows[layouts.row[layout]].period ?? Infinity;
      for (const slot of layouts.slots[layout]) {
        if (slot.signal.indicator !== undefined) {
          contact ??= { slot, period };
          continue;
        }
        for (const group of [slot.signal.group ?? entry.group, ...entry.kindredGroups ?? []]) {
          const key = `${group}/${slot.quantity}`;
          if (!this.#slots.has(key)) this.#slots.set(key, { slot, period });
        }
      }
    }
    this.#contact = contact;
  }

  /** Undefined where no known message brings such a signal. */
  of(name: string): SignalKind | undefined {
    const { group, subject, quantity } = placeOfName(name);
    if (quantity === "condition" && subject !== "") return this.#condition(name);
    const described =
      this.boat.subjects.find((one) => one.group === group && one.name === subject) ?? null;
    const found = this.#slots.get(`${group}/${quantity}`) ?? this.#contactOf(group, quantity);
    if (found === undefined) return undefined;
    const facts = signalFacts(
      { ...found.slot, quantity, signal: { ...found.slot.signal, group: undefined } },
      { group, name: subject, described },
    );
    return { facts, period: found.period };
  }

  #contactOf(group: string, quantity: string) {
    const contacts: Readonly<Record<string, readonly string[]>> = {
      bilge: ["pump", "float"],
      detector: ["alarm", "fault-contact"],
    };
    const isContact = group === "switch" || contacts[group]?.includes(quantity);
    return isContact ? this.#contact : undefined;
  }

  #condition(name: string): SignalKind {
    const { group, subject, quantity } = placeOfName(name);
    const facts = {
      name,
      group,
      subject,
      quantity,
      unit: "",
      decimals: 0,
      words: CONDITION_WORDS,
      span: null,
      derived: false,
    } as const;
    return { facts, period: CONDITION_PERIOD };
  }
}
