import { type BusNames, MOST_BUSES } from "./bus-names.ts";

/** A network interface's name has at most 15 bytes (IFNAMSIZ of Linux, less the closing zero). */
const LONGEST_NAME = 15;

/** Why a name has no bus number. */
export type NoBus = "no-name" | "too-many" | "second-name";

/**
 * Bus numbers for the interface names in one source, compared as bytes: a name becomes a string
 * only the first time it is met. Where the person gave the input a name, its frames are on the bus
 * of that name, and a second interface is refused, since two buses must never become one.
 */
export class InterfaceNames {
  readonly #buses: BusNames;
  readonly #given: string | undefined;
  readonly #known: { readonly name: Uint8Array; readonly number: number }[] = [];
  #last: Uint8Array = new Uint8Array(0);
  #lastNumber = -1;
  /** Why `numberOf` last answered -1. */
  whyNot: NoBus = "no-name";

  constructor(buses: BusNames, given?: string) {
    this.#buses = buses;
    this.#given = given;
    if (given !== undefined) buses.give(given);
  }

  /** The number of the bus whose name lies at `from` up to `to`; -1 where it has none (`whyNot`). */
  numberOf(bytes: Uint8Array, from: number, to: number): number {
    if (this.#lastNumber >= 0 && same(this.#last, bytes, from, to)) return this.#lastNumber;
    return this.#find(bytes, from, to);
  }

  /** The same for a name that is a string already. */
  numberOfText(name: string): number | NoBus {
    const bytes = new TextEncoder().encode(name);
    const number = this.numberOf(bytes, 0, bytes.length);
    return number < 0 ? this.whyNot : number;
  }

  #find(bytes: Uint8Array, from: number, to: number): number {
    for (const { name, number } of this.#known) {
      if (same(name, bytes, from, to)) return this.#remember(name, number);
    }
    if (!isName(bytes, from, to)) return this.#refuse("no-name");
    if (this.#given !== undefined && this.#known.length > 0) return this.#refuse("second-name");
    const text = this.#given ?? String.fromCharCode(...bytes.subarray(from, to));
    if (!this.#buses.has(text) && this.#buses.count === MOST_BUSES) return this.#refuse("too-many");
    const known = { name: bytes.slice(from, to), number: this.#buses.numberOf(text) };
    this.#known.push(known);
    return this.#remember(known.name, known.number);
  }

  #remember(name: Uint8Array, number: number): number {
    this.#last = name;
    this.#lastNumber = number;
    return number;
  }

  #refuse(why: NoBus): number {
    this.whyNot = why;
    return -1;
  }
}

/** What a reader expected where a name had no bus number. */
export const EXPECTED_NAME: Readonly<Record<NoBus, string>> = {
  "no-name": "the name of a network interface, 1 to 15 printable characters",
  "too-many": `at most ${MOST_BUSES} buses`,
  "second-name": "one interface only, since the input was given one name",
};

function same(name: Uint8Array, bytes: Uint8Array, from: number, to: number): boolean {
  if (name.length !== to - from) return false;
  for (let i = 0; i < name.length; i++) if (name[i] !== bytes[from + i]) return false;
  return true;
}

function isName(bytes: Uint8Array, from: number, to: number): boolean {
  if (to === from || to - from > LONGEST_NAME) return false;
  for (let i = from; i < to; i++) if (bytes[i] <= 0x20 || bytes[i] > 0x7e) return false;
  return true;
}
