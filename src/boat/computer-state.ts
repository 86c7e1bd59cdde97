import type { Micros } from "../ground/time.ts";
import { Quality, Reason } from "./quality.ts";
import type { SignalTable } from "./signal-table.ts";

/** Quantity of the bit that says that the rule files lie there with a mistake. */
export const RULES_REFUSED = "rules-refused";

/** What the program knows of itself, as signals that no message carries and that never age. */
export class ComputerState {
  constructor(readonly table: SignalTable) {}

  /** The signal is made when there is something to tell for the first time. */
  noteRulesRefused(isRefused: boolean, now: Micros): void {
    const { table } = this;
    const known = table.find(`computer/${RULES_REFUSED}`);
    if (known < 0 && !isRefused) return;
    const signal = known >= 0 ? known : table.intern({
      name: `computer/${RULES_REFUSED}`,
      group: "computer",
      subject: "",
      quantity: RULES_REFUSED,
      unit: "1",
      decimals: 0,
      words: null,
      span: null,
      derived: true,
    });
    const value = isRefused ? 1 : 0;
    if (table.values[signal] === value) return;
    table.set(signal, value, Quality.good, Reason.none, now);
  }
}
