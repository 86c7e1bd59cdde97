import type { Values } from "./message-encoder.ts";
import type { Random } from "./random.ts";

type Value = Values[string];

/** What can be wrong with one reading of a device, whatever it measures. */
export type ReadingFault =
  /** "Not available": no sender, or its wire is off. */
  | { readonly reads: "nothing" }
  /** What it read when it stuck. */
  | { readonly reads: "the-same" }
  | { readonly reads: "always"; readonly value: Value }
  /** Strays by up to `most`, in the unit of the wire. */
  | { readonly reads: "noise"; readonly most: number }
  /** A loose contact: this share of the readings is "not available". */
  | { readonly reads: "now-and-then"; readonly missing: number }
  /** The sign is wrong: a shunt that was fitted the other way round. */
  | { readonly reads: "reversed" };

/** Which reading of which device: one field, of all its messages or of those with this key. */
export interface Reading {
  readonly device: string;
  readonly field: string;
  readonly of?: Values;
}

/** A faulty reading as it goes on. */
export class FaultyReading {
  /** What each message said when it stuck, by its key. */
  readonly #stuck = new Map<string, Value>();

  constructor(
    readonly reading: Reading,
    readonly fault: ReadingFault,
    readonly random: Random,
  ) {}

  /** What is said instead of what was measured. */
  applyTo(values: Values): Values {
    const { field, of = {} } = this.reading;
    if (!(field in values)) return values;
    if (Object.entries(of).some(([key, value]) => values[key] !== value)) return values;
    return { ...values, [field]: this.#said(values[field], values) };
  }

  #said(value: Value, values: Values): Value {
    const { fault, random } = this;
    switch (fault.reads) {
      case "nothing":
        return null;
      case "always":
        return fault.value;
      case "the-same": {
        const key = `${values.instance} ${values.fluid}`;
        const before = this.#stuck.get(key);
        if (before !== undefined) return before;
        this.#stuck.set(key, value);
        return value;
      }
      case "noise":
        return typeof value === "number" ? shaken(value, random.noise(fault.most)) : value;
      case "now-and-then":
        return random.fraction() < fault.missing ? null : value;
      case "reversed":
        return typeof value === "number" ? -value : value;
    }
  }
}

/** Noise never makes a negative number of what was none: many fields cannot say one. */
function shaken(value: number, by: number): number {
  return value < 0 ? value + by : Math.max(0, value + by);
}
