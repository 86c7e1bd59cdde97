import type { Micros } from "../../ground/time.ts";
import type { Boat } from "../boat.ts";
import type { SignalTable } from "../signal-table.ts";
import { InferredPumps } from "./inferred-pumps.ts";
import { PumpDraws } from "./pump-draws.ts";
import { PumpStarts } from "./pump-starts.ts";

/**
 * All that is worked out of bilge pumps: first which of them run, then what that is judged by.
 *
 * Order of calls: `follow` before rules judge; `runTimer` when `nextDue` is reached, then `follow`.
 */
export class BilgePumps {
  readonly #inferred: InferredPumps;
  readonly #draws: PumpDraws;
  readonly #starts: PumpStarts;

  constructor(table: SignalTable, boat: Boat) {
    this.#inferred = new InferredPumps(table, boat);
    this.#draws = new PumpDraws(table, boat);
    this.#starts = new PumpStarts(table, boat);
  }

  get nextDue(): Micros {
    return Math.min(this.#inferred.nextDue, this.#starts.nextDue);
  }

  follow(now: Micros): void {
    this.#inferred.follow(now);
    this.#draws.follow(now);
    this.#starts.follow(now);
  }

  runTimer(): void {
    if (this.#inferred.nextDue <= this.#starts.nextDue) this.#inferred.runTimer();
    else this.#starts.runTimer();
  }
}
