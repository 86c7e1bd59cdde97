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

  /** Adds what an instance depends on; what is there already stays. Returns those signals. */
  add(i: number, instance: Instance): number[] {
    const touched = touchedBy(instance).filter(([signal]) => signal >= 0);
    for (const [signal, touch] of touched) this.#add(signal, i, touch);
    return touched.map(([signal]) => signal);
  }

  #add(signal: number, i: number, touch: number): void {
    while (this.#entries.length <= signal) this.#entries.push([]);
    const entries = this.#entries[signal];
    const at = entries.findIndex((entry) => Dependencies.instanceOf(entry) === i);
    if (at < 0) entries.push(i << 3 | touch);
    else entries[at] |= touch;
  }
}

/** The signals of an instance, some of which may be none yet (-1), and what each touches. */
function touchedBy(instance: Instance): [signal: number, touch: number][] {
  const { signal, test, testSignals, watchSignals, suppressSignals } = instance;
  const touch = touchOf(test);
  const along = "curve" in test && test.curve !== null ? [test.curve.along] : [];
  const tested = test.kind === "unjudged" ? testSignals : [signal, ...testSignals];
  return [
    ...tested.map((one): [number, number] => [one, touch]),
    ...along.map((one): [number, number] => [one, Touch.along]),
    ...[...watchSignals, ...suppressSignals].map((one): [number, number] => [one, Touch.watch]),
  ];
}

function touchOf({ kind }: TiedTest): number {
  if (kind === "measured") return Touch.along;
  return kind === "discrepancy" || kind === "unjudged" ? Touch.all : Touch.test;
}
