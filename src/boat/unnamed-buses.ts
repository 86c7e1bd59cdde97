import type { Micros } from "../ground/time.ts";
import { signalName, topicWord } from "./naming.ts";
import { Quality, Reason } from "./quality.ts";
import type { SignalTable } from "./signal-table.ts";

/** Quantity of the bit that says that a bus spoke beside another, and nobody has named it. */
export const UNNAMED_BUS = "unnamed";

/** Derives `network/BUS/unnamed`, which is made when there is something to tell, and then stays. */
export class UnnamedBuses {
  #told = 0;

  constructor(readonly table: SignalTable) {}

  /** @param buses all of them so far, by name */
  follow(buses: readonly string[], now: Micros): void {
    if (buses.length === this.#told) return;
    this.#told = buses.length;
    for (const bus of buses) this.#tell(topicWord(bus), now);
  }

  #tell(subject: string, now: Micros): void {
    const signal = this.table.intern({
      name: signalName("network", subject, UNNAMED_BUS),
      group: "network",
      subject,
      quantity: UNNAMED_BUS,
      unit: "1",
      decimals: 0,
      words: null,
      span: null,
      derived: true,
    });
    if (this.table.values[signal] === 1) return;
    this.table.set(signal, 1, Quality.good, Reason.none, now);
  }
}
