import { HOUR, type Micros, SECOND } from "../../ground/time.ts";
import type { Boat } from "../boat.ts";
import { Quality, Reason } from "../quality.ts";
import type { SignalTable } from "../signal-table.ts";

/** What is called so is worked out of a bilge's pump. */
export const STARTS_PER_HOUR = "starts-per-hour";

/** A contact that rattles starts once. Judgement. */
const REST: Micros = 2 * SECOND;

interface Pump {
  /** Name of what says that it runs. */
  readonly name: string;
  /** Its number; -1 until it was heard. */
  pump: number;
  readonly signal: number;
  /** The starts of the last hour. */
  readonly starts: Micros[];
  /** Whether it runs; NaN while that is not known. */
  on: number;
  /** The same, as it was last known. */
  lastOn: number;
  overSince: Micros;
  /** It is known without a break since then; Infinity while it is not. */
  knownSince: Micros;
  /** It has been for an hour. */
  isWhole: boolean;
}

/**
 * How often each bilge pump of the boat file started in the last hour: `bilge/aft/starts-per-hour`.
 * Uncertain and inferred where the pump is, and until the pump has been known for a whole hour: there
 * may have been more. Not known while the pump is not.
 *
 * Order of calls: `follow` before rules judge; `runTimer` when `nextDue` is reached.
 */
export class PumpStarts {
  /** When a start is an hour old, or a pump has been known for one. */
  nextDue: Micros = Infinity;
  readonly #pumps: readonly Pump[];

  constructor(readonly table: SignalTable, boat: Boat) {
    this.#pumps = boat.subjects.flatMap(({ group, name, keys, inferred }): Pump[] => {
      const hasPump = inferred !== undefined || keys.some(({ quantity }) => quantity === "pump");
      if (group !== "bilge" || !hasPump) return [];
      const signal = table.intern({
        ...{ name: `${group}/${name}/${STARTS_PER_HOUR}`, group, subject: name },
        ...{ quantity: STARTS_PER_HOUR, unit: "1/h", decimals: 0, words: null, span: 10 },
        derived: true,
      });
      return [{
        ...{ name: `${group}/${name}/pump`, pump: -1, signal, starts: [], on: NaN, lastOn: NaN },
        ...{ overSince: Infinity, knownSince: Infinity, isWhole: false },
      }];
    });
  }

  /** Looks at what is fresh in the table. */
  follow(now: Micros): void {
    for (const pump of this.#pumps) {
      if (pump.pump < 0 && !this.#find(pump)) continue;
      const on = this.#known(pump.pump);
      if (Object.is(on, pump.on)) continue;
      this.#turn(pump, on, now);
      this.#say(pump, now);
    }
  }

  runTimer(): void {
    const now = this.nextDue;
    for (const pump of this.#pumps) if (dueOf(pump) === now) this.#say(pump, now);
  }

  #find(pump: Pump): boolean {
    pump.pump = this.table.find(pump.name);
    if (pump.pump >= 0) this.table.heed(pump.pump);
    return pump.pump >= 0;
  }

  #known(pump: number): number {
    const { qualities, values } = this.table;
    return this.#isInferred(pump) || qualities[pump] === Quality.good ? values[pump] : NaN;
  }

  #isInferred(pump: number): boolean {
    return this.table.reasons[pump] === Reason.inferred;
  }

  /** @param on NaN where it is no longer known */
  #turn(pump: Pump, on: number, now: Micros): void {
    pump.on = on;
    if (Number.isNaN(on)) {
      pump.knownSince = Infinity;
      pump.isWhole = false;
      return;
    }
    if (pump.knownSince === Infinity) pump.knownSince = now;
    if (on === 1 && pump.lastOn === 0 && now - pump.overSince >= REST) pump.starts.push(now);
    if (on === 0 && pump.lastOn !== 0) pump.overSince = now;
    pump.lastOn = on;
  }

  #say(pump: Pump, now: Micros): void {
    const { starts, knownSince } = pump;
    while (starts.length > 0 && now - starts[0] >= HOUR) starts.shift();
    pump.isWhole ||= now - knownSince >= HOUR;
    this.nextDue = Math.min(...this.#pumps.map(dueOf));
    const isCertain = pump.isWhole && !this.#isInferred(pump.pump);
    if (knownSince === Infinity) this.#tell(pump, NaN, Quality.bad, Reason.notAvailable, now);
    else if (isCertain) this.#tell(pump, starts.length, Quality.good, Reason.none, now);
    else this.#tell(pump, starts.length, Quality.uncertain, Reason.inferred, now);
  }

  #tell({ signal }: Pump, value: number, quality: Quality, reason: Reason, now: Micros): void {
    const { table } = this;
    if (Object.is(table.values[signal], value) && table.reasons[signal] === reason) return;
    table.set(signal, value, quality, reason, now);
  }
}

function dueOf({ starts, knownSince, isWhole }: Pump): Micros {
  const leaves = starts.length === 0 ? Infinity : starts[0];
  return Math.min(leaves, isWhole ? Infinity : knownSince) + HOUR;
}
