import { setImmediate } from "node:timers";
import type { Clock } from "../../src/ground/clock.ts";
import type { Micros } from "../../src/ground/time.ts";

interface Sleeper {
  readonly until: Micros;
  readonly wake: () => void;
}

/** Both clocks and all waiting of a program under test: time passes only when the test says so. */
export class VirtualTime implements Clock {
  #now: Micros = 0;
  readonly #sleepers = new Set<Sleeper>();

  /** @param begin wall time at the beginning */
  constructor(readonly begin: Micros) {}

  steady(): Micros {
    return this.#now;
  }

  wall(): Micros {
    return this.begin + this.#now;
  }

  readonly wait = (length: Micros, cut?: AbortSignal): Promise<void> => {
    if (cut?.aborted) return Promise.resolve();
    return new Promise((resolve) => {
      const wake = (): void => {
        this.#sleepers.delete(sleeper);
        resolve();
      };
      const sleeper: Sleeper = { until: this.#now + length, wake };
      this.#sleepers.add(sleeper);
      cut?.addEventListener("abort", wake, { once: true });
    });
  };

  /** Lets time pass, stopping wherever somebody waits for it. */
  async pass(length: Micros): Promise<void> {
    const end = this.#now + length;
    for (;;) {
      await settled();
      const next = Math.min(...[...this.#sleepers].map(({ until }) => until));
      if (next > end) break;
      this.#now = Math.max(this.#now, next);
      for (const sleeper of [...this.#sleepers]) if (sleeper.until <= this.#now) sleeper.wake();
    }
    this.#now = end;
    await settled();
  }
}

/** Resolves when every promise that can settle without time has done so. */
async function settled(): Promise<void> {
  for (let i = 0; i < 3; i++) await new Promise((resolve) => setImmediate(resolve));
}
