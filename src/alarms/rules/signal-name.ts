import type { SignalReference } from "./rule-parts.ts";

/** Where a signal lies: `GROUP[/SUBJECT]/QUANTITY`. */
export interface SignalPlace {
  readonly group: string;
  /** Empty for groups without subjects. */
  readonly subject: string;
  readonly quantity: string;
}

/** Quantities of two parts, which are never groups (contract §3). */
const TWO_PART_QUANTITIES = ["status", "fault"];

/** Whether a name says its group itself. */
export function isAbsolute(name: string): boolean {
  const slash = name.indexOf("/");
  return slash > 0 && !TWO_PART_QUANTITIES.includes(name.slice(0, slash));
}

/** The parts of an absolute name. */
export function placeOfName(name: string): SignalPlace {
  const parts = name.split("/");
  const two = parts.length > 2 && TWO_PART_QUANTITIES.includes(parts[parts.length - 2]);
  const quantity = parts.slice(two ? -2 : -1).join("/");
  const [group, subject = ""] = parts.slice(0, two ? -2 : -1);
  return { group, subject, quantity };
}

/** The group and quantity that a reference speaks of, whatever its subject; null without a group. */
export function kindOfSignal(
  reference: SignalReference,
  each: string | null,
): { group: string; quantity: string } | null {
  if (reference.of !== null) return { group: reference.of, quantity: reference.name };
  if (isAbsolute(reference.name)) return placeOfName(reference.name);
  return each === null ? null : { group: groupOfEach(each), quantity: reference.name };
}

/** The twins: port and starboard, or the only two engines that there are. */
export const ENGINE_PAIR = "engine-pair";

/** The group whose subjects a rule unfolds over. */
export function groupOfEach(each: string): string {
  return each === ENGINE_PAIR ? "engine" : each;
}

/** As a person would say it: `engine oil-pressure`, `sea/temperature`. */
export function sayReference(reference: SignalReference, each: string | null): string {
  if (reference.of !== null) return `${reference.of} ${reference.name}`;
  return isAbsolute(reference.name) || each === null
    ? reference.name
    : `${groupOfEach(each)} ${reference.name}`;
}

/** on, off, yes, no, true and false mean the same everywhere. */
export function isSwitchWord(word: string): boolean {
  return ["on", "off", "yes", "no", "true", "false"].includes(word);
}

export function isOn(word: string): boolean {
  return word === "on" || word === "yes" || word === "true";
}

/** Whether two words that a signal reads are the same. */
export function isSameWord(one: string, other: string): boolean {
  return one === other || isSwitchWord(one) && isSwitchWord(other) && isOn(one) === isOn(other);
}
