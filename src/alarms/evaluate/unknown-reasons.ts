import { Reason } from "../../boat/quality.ts";
import type { SignalTable } from "../../boat/signal-table.ts";
import { type Micros, SECOND } from "../../ground/time.ts";
import type { ConditionProgram } from "../compile/condition-program.ts";

/** Why an answer is unknown, gathered without allocation: clear it, then let it visit signals. */
export class UnknownReasons {
  /** The longest old age of the signals visited. */
  oldAge: Micros = 0;
  /** One of them was heard and is no longer. */
  isLost = false;

  constructor(readonly table: SignalTable, readonly oldAgeOf: (signal: number) => Micros) {}

  clear(): void {
    this.oldAge = 0;
    this.isLost = false;
  }

  /** Gathers anew for one step of a condition. */
  gather(program: ConditionProgram, step: number): void {
    this.clear();
    if (step >= 0) program.visitUnknown(step, this.visit);
  }

  readonly visit = (signal: number): void => {
    const oldAge = signal < 0 ? Infinity : this.oldAgeOf(signal);
    // What never ages, or was never heard, freezes a delay no longer than the least old age.
    this.oldAge = Math.max(this.oldAge, oldAge === Infinity ? SECOND : oldAge);
    if (signal < 0) return;
    const isNotHeard = this.table.reasons[signal] === Reason.notHeard;
    if (isNotHeard && this.table.heardAt(signal) > 0) this.isLost = true;
  };
}
