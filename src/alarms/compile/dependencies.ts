import type { Instance, TiedTest } from "./instance.ts";

/**
 * What of an instance a signal touches; one signal may touch several. `along`: what a curve or a
 * measure follows.
 */
export const Touch = { test: 1, watch: 2, along: 4, all: 7 } as const;

const NONE: readonly number[] = [];

/** By signal: the instances that it touches and how. */
export class Dependencies {
  /** Each entry is an instance times eight plus what of it is touched. */
  readonly #entries: number[][] = [];

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
    for (const followed of testSignals) this.#add(followed, i, touch);
    if ("curve" in test && test.curve !== null) this.#add(test.curve.along, i, Touch.along);
    for (const watched of watchSignals) this.#add(watched, i, Touch.watch);
    for (const watched of suppressSignals) this.#add(watched, i, Touch.watch);
  }

  #add(signal: number, i: number, touch: number): void {
    if (signal < 0) return;
    while (this.#entries.length <= signal) this.#entries.push([]);
    const entries = this.#entries[signal];
    const at = entries.findIndex((entry) => Dependencies.instanceOf(entry) === i);
    if (at < 0) entries.push(i << 3 | touch);
    else entries[at] |= touch;
  }
}

function touchOf({ kind }: TiedTest): number {
  if (kind === "measured") return Touch.along;
  return kind === "discrepancy" || kind === "unjudged" ? Touch.all : Touch.test;
}
