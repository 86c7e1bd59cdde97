import type { Micros } from "../ground/time.ts";
import { Quality, Reason } from "./quality.ts";
import type { SignalTable } from "./signal-table.ts";

/** Quantity of the bit that says that the rule files lie there with a mistake. */
export const RULES_REFUSED = "rules-refused";
/** Quantity of how many alarms have not been made to sound for a season. */
export const PROOFS_DUE = "proofs-due";

/** What the program knows of itself, as signals that no message carries and that never age. */
export class ComputerState {
  constructor(readonly table: SignalTable) {}

  /** The signal is made when there is something to tell for the first time. */
  note(quantity: typeof RULES_REFUSED | typeof PROOFS_DUE, value: number, now: Micros): void {
    const { table } = this;
    const name = `computer/${quantity}`;
    const known = table.find(name);
    if (known < 0 && value === 0) return;
    const signal = known >= 0 ? known : table.intern({
      name,
      group: "computer",
      subject: "",
      quantity,
      unit: "1",
      decimals: 0,
      words: null,
      span: null,
      derived: true,
    });
    if (table.values[signal] === value) return;
    table.set(signal, value, Quality.good, Reason.none, now);
  }
}
