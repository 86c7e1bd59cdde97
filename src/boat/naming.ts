import type { Subject } from "./boat.ts";
import type { SlotFacts } from "./operation.ts";
import { SPAN_NOMINAL_VOLTS } from "./quantities.ts";
import type { SignalFacts } from "./signal-table.ts";

/** Whose signals they are: named by the boat file, or by number (`described` is then null). */
export interface NamedSubject {
  readonly group: string;
  /** Empty for groups without subjects. */
  readonly name: string;
  readonly described: Subject | null;
  /** A temperature that the boat file ties to the subject: "exhaust-temperature". */
  readonly tied?: string;
}

export function signalName(group: string, subject: string, quantity: string): string {
  return subject === "" ? `${group}/${quantity}` : `${group}/${subject}/${quantity}`;
}

/** The facts of a signal that a message brings. */
export function signalFacts(slot: SlotFacts, subject: NamedSubject): SignalFacts {
  const own = slot.signal.group;
  const group = own ?? subject.group;
  const name = own === undefined ? subject.name : "";
  const quantity = subject.tied === undefined
    ? slot.quantity
    : slot.quantity.replace("temperature", subject.tied);
  const nominal = subject.described?.numbers.nominal ?? SPAN_NOMINAL_VOLTS;
  const span = slot.span !== null && group === "battery" && slot.quantity === "voltage"
    ? slot.span * nominal / SPAN_NOMINAL_VOLTS
    : slot.span;
  return {
    name: signalName(group, name, quantity),
    group,
    subject: name,
    quantity,
    unit: slot.unit,
    decimals: slot.decimals,
    words: slot.words,
    span,
    deadband: slot.deadband,
    derived: false,
  };
}

/** A word that can stand in a topic: what cannot becomes a hyphen. */
export function topicWord(text: string): string {
  return text.toLowerCase().replaceAll(/[^a-z0-9-]+/g, "-");
}
