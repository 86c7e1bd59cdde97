import type { Carriers } from "../carriers.ts";
import { Quality } from "../quality.ts";

/** What devices say of their own supply, which is the network's where they speak on it. */
const SUPPLIES: ReadonlySet<string> = new Set(["key-switch-voltage", "alternator-voltage"]);

/** A device that speaks has at least this much; what lies below is no supply. */
const LEAST_VOLTS = 6;

/** Finds the lowest supply that is told on a bus. */
export class SupplyVoltage {
  #signals: number[] = [];
  #seen = 0;

  constructor(readonly carriers: Carriers) {}

  /** Volts; undefined where no device says anything of its supply. */
  lowest(bus: number): number | undefined {
    const { bus: buses, table } = this.carriers;
    for (; this.#seen < table.count; this.#seen++) {
      if (SUPPLIES.has(table.facts[this.#seen].quantity)) this.#signals.push(this.#seen);
    }
    let lowest: number | undefined;
    for (const signal of this.#signals) {
      const carrier = table.carriers[signal];
      if (carrier < 0 || buses[carrier] !== bus || table.qualities[signal] !== Quality.good) {
        continue;
      }
      const volts = table.values[signal];
      if (volts >= LEAST_VOLTS && (lowest === undefined || volts < lowest)) lowest = volts;
    }
    return lowest;
  }
}
