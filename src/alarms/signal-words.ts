import type { SignalTable } from "../boat/signal-table.ts";
import { roundTo } from "../units/rounding.ts";
import { placeOfName } from "./rules/signal-name.ts";

/** What has no name is called by its number, or by its bus and number. */
const NUMBERED = /^\d|^[a-z]+\d+-\d+$/;

/**
 * A signal as an owner would call it: `port oil pressure`, `house battery voltage`,
 * `engine 0 speed`, `engine can0-0 oil pressure`. A quantity of one word needs its group to be
 * understood.
 */
export function signalWords(name: string): string {
  const { group, subject, quantity } = placeOfName(name);
  const what = words(quantity.replace(/^(status|fault)\//, ""));
  if (subject === "") return `${words(group)} ${what}`;
  if (NUMBERED.test(subject)) return `${words(group)} ${subject} ${what}`;
  return what.includes(" ")
    ? `${words(subject)} ${what}`
    : `${words(subject)} ${words(group)} ${what}`;
}

/** What a signal reads now: a number as it is shown, a word, or null while it is not known. */
export function valueNow(table: SignalTable, signal: number): number | string | null {
  if (signal < 0 || Number.isNaN(table.values[signal])) return null;
  const { words: known, decimals } = table.facts[signal];
  if (known !== null) return table.word(signal) ?? null;
  return roundTo(table.values[signal], decimals);
}

function words(name: string): string {
  return name.replaceAll("-", " ");
}
