import type { Instance } from "./instance.ts";

/** What of an instance a signal touches; one signal may touch several. */
export const Touch = { test: 1, watch: 2, along: 4, all: 7 } as const;

/** By signal: the instances that it touches and how, as one flat list with starts. */
export class Dependencies {
  /** The entries of signal s lie from `starts[s]` to `starts[s + 1]`. */
  readonly starts: Int32Array;
  readonly instances: Int32Array;
  readonly touches: Uint8Array;

  /** @param signalCount signals that exist now; later ones touch nothing */
  constructor(instances: readonly Instance[], readonly signalCount: number) {
    const bySignal: Map<number, number>[] = Array.from({ length: signalCount }, () => new Map());
    const add = (signal: number, instance: number, touch: number) => {
      if (signal < 0) return;
      const touched = bySignal[signal];
      touched.set(instance, (touched.get(instance) ?? 0) | touch);
    };
    instances.forEach(({ signal, test, watchSignals }, i) => {
      add(signal, i, Touch.test);
      if (test.kind === "bit-pattern") { for (const bit of test.signals) add(bit, i, Touch.test); }
      if ("curve" in test && test.curve !== null) add(test.curve.along, i, Touch.along);
      for (const watched of watchSignals) add(watched, i, Touch.watch);
    });
    this.starts = new Int32Array(signalCount + 1);
    for (let s = 0; s < signalCount; s++) this.starts[s + 1] = this.starts[s] + bySignal[s].size;
    const entries = bySignal.flatMap((touched) => [...touched]);
    this.instances = Int32Array.from(entries, ([instance]) => instance);
    this.touches = Uint8Array.from(entries, ([, touch]) => touch);
  }
}
