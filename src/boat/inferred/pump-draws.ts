import { type Micros, SECOND } from "../../ground/time.ts";
import type { Boat } from "../boat.ts";
import { ChargedBatteries } from "./charged-batteries.ts";
import { Quality, Reason } from "../quality.ts";
import type { SignalTable } from "../signal-table.ts";
import { DrawnSteps } from "./drawn-steps.ts";

/** Codes of the words that a contact reads. */
const WORDS: ReadonlyMap<number, string> = new Map([[0, "off"], [1, "on"]]);
/** The battery's monitor may speak before the switch bank does. */
const AHEAD: Micros = 2 * SECOND;
/** For how long the battery must have given current before. Judgement. */
const GIVING: Micros = 10 * SECOND;

interface Pump {
  readonly battery: string;
  /** Names of what it follows. */
  readonly pump: string;
  readonly current: string;
  readonly signal: number;
  readonly steps: DrawnSteps;
  /** Whether the switch bank says that it is on; NaN while that is not known. */
  on: number;
  /** When the switch bank last spoke, as far as was looked. */
  heard: Micros;
  /** A step that came from then on is the pump's; Infinity where none could be told. */
  from: Micros;
}

/**
 * Whether a bilge pump that is switched on takes current: `bilge/aft/pump-draws`, seen as a step of
 * the current of the battery that the boat file names for it, and so uncertain and inferred. Off
 * while the pump is off; on from the step on. Not known where the pump was on already when it was
 * first heard; while something charges the battery or it gave no current before, since what charges it
 * may carry the pump unseen; and after a larger step: another load hides it.
 *
 * `follow` before rules judge; there are no timers.
 */
export class PumpDraws {
  readonly #pumps: readonly Pump[];
  readonly #charged: ChargedBatteries;

  constructor(readonly table: SignalTable, boat: Boat) {
    this.#charged = new ChargedBatteries(table, boat);
    this.#pumps = boat.subjects.flatMap(({ group, name, drawnStep, relations: { battery } }) => {
      if (drawnStep === undefined || battery === undefined) return [];
      const signal = table.intern({
        ...{ name: `${group}/${name}/pump-draws`, group, subject: name, quantity: "pump-draws" },
        ...{ unit: "", decimals: 0, words: WORDS, span: null, derived: true },
      });
      return [{
        battery,
        pump: `${group}/${name}/pump`,
        current: `battery/${battery}/current`,
        signal,
        steps: new DrawnSteps(drawnStep),
        on: NaN,
        heard: 0,
        from: Infinity,
      }];
    });
  }

  /** Looks at what is fresh in the table. */
  follow(now: Micros): void {
    for (const pump of this.#pumps) {
      const switched = this.table.find(pump.pump);
      const current = this.table.find(pump.current);
      if (switched < 0 || current < 0) continue;
      this.table.heed(switched);
      this.table.heed(current);
      const on = this.#known(switched);
      if (on === 1 && pump.on === 0) pump.from = this.#beginOf(pump, now);
      else if (on !== 1) pump.from = Infinity;
      pump.on = on;
      pump.heard = this.table.heardAt(switched);
      const amperes = this.#known(current);
      pump.steps.take(amperes, now);
      this.#say(pump.signal, Number.isNaN(amperes) ? NaN : this.#drawn(pump), now);
    }
  }

  /** It went on at some time since the switch bank last spoke. */
  #beginOf({ heard, steps }: Pump, now: Micros): Micros {
    const from = Math.min(now, heard) - AHEAD;
    return now - steps.givesSince >= GIVING ? from : Infinity;
  }

  #drawn({ battery, on, from, steps }: Pump): number {
    if (on !== 1) return on;
    if (from === Infinity || steps.hiddenAt >= from) return NaN;
    if (steps.seenAt >= from) return 1;
    return this.#charged.has(battery) ? NaN : 0;
  }

  #known(signal: number): number {
    const { qualities, values } = this.table;
    return qualities[signal] === Quality.good ? values[signal] : NaN;
  }

  #say(signal: number, value: number, now: Micros): void {
    const { table } = this;
    const isKnown = !Number.isNaN(value);
    const reason = isKnown ? Reason.inferred : Reason.notAvailable;
    if (Object.is(table.values[signal], value) && table.reasons[signal] === reason) return;
    table.set(signal, value, isKnown ? Quality.uncertain : Quality.bad, reason, now);
  }
}
