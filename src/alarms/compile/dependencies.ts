import type { SignalTable } from "../../boat/signal-table.ts";
import type { Instance, TiedTest } from "./instance.ts";

/**
 * What of an instance a signal touches; one signal may touch several. `along`: what a curve or a
 * measure follows.
 */
export const Touch = { test: 1, watch: 2, along: 4, all: 7 } as const;

const NONE: readonly number[] = [];

/** By signal: the instances that it touches and how. */
export class Dependencies {
  /** In the order of instances: each entry is one times eight, plus what of it is touched. */
  readonly #entries: number[][] = [];

  constructor(readonly table: SignalTable) {}

  /** The instances that a signal touches: read them with `instanceOf` and `touchOf`. */
  entriesOf(signal: number): readonly number[] {
    return signal < this.#entries.length ? this.#entries[signal] : NONE;
  }

  static instanceOf(entry: number): number {
    return entry >>> 3;
  }

  static touchOf(entry: number): number {
    return entry & Touch.all;
  }

  /** Adds what an instance depends on; what is there already stays. */
  add(i: number, instance: Instance): void {
    const { signal, test, testSignals, watchSignals, suppressSignals } = instance;
    const touch = touchOf(test);
    if (test.kind !== "unjudged") this.#add(signal, i, touch);
    for (const one of testSignals) this.#add(one, i, touch);
    if ("curve" in test && test.curve !== null) this.#add(test.curve.along, i, Touch.along);
    for (const one of watchSignals) this.#add(one, i, Touch.watch);
    for (const one of suppressSignals) this.#add(one, i, Touch.watch);
  }

  /** @param signal -1 while there is none yet */
  #add(signal: number, i: number, touch: number): void {
    if (signal < 0) return;
    while (this.#entries.length <= signal) this.#entries.push([]);
    const entries = this.#entries[signal];
    let at = entries.length;
    while (at > 0 && Dependencies.instanceOf(entries[at - 1]) > i) at--;
    if (at > 0 && Dependencies.instanceOf(entries[at - 1]) === i) entries[at - 1] |= touch;
    else entries.splice(at, 0, i << 3 | touch);
    this.table.heed(signal);
  }
}

function touchOf({ kind }: TiedTest): number {
  if (kind === "measured") return Touch.along;
  return kind === "discrepancy" || kind === "unjudged" ? Touch.all : Touch.test;
}
