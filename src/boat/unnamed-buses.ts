import type { Micros } from "../ground/time.ts";
import type { DerivedSignals } from "./derived-signals.ts";
import { topicWord } from "./naming.ts";

/** Quantity of the bit that says that a bus spoke beside another, and nobody has named it. */
export const UNNAMED_BUS = "unnamed";

/** Derives `network/BUS/unnamed`, which is made when there is something to tell, and then stays. */
export class UnnamedBuses {
  #told = 0;

  constructor(readonly derived: DerivedSignals) {}

  /** @param buses all of them so far, by name */
  follow(buses: readonly string[], now: Micros): void {
    if (buses.length === this.#told) return;
    this.#told = buses.length;
    for (const bus of buses) {
      this.derived.say(this.derived.make("network", topicWord(bus), UNNAMED_BUS), 1, now);
    }
  }
}
