import { type Micros, MINUTE } from "../ground/time.ts";
import type { Carriers } from "./carriers.ts";
import { Quality, Reason } from "./quality.ts";
import type { SharedSignals } from "./shared-signals.ts";

/** As for two senders of one kind of message (contract §3). */
const QUIET: Micros = MINUTE;

/** One signal that two devices bring. */
export interface SharedContest {
  readonly signal: number;
  /** The first is the one whose values are shown. */
  readonly carriers: readonly number[];
}

/**
 * Two devices that bring one signal in different kinds of message, as a plotter and a weather station
 * do with the sea's temperature. Nobody knows which is right: the values stay those of the one that
 * has the signal, and they are uncertain until the other has been quiet for a minute. One device that
 * says a thing twice is no rival of itself.
 */
export class SharedRivals {
  /** Goes up whenever a signal becomes or ceases to be contested. */
  version = 0;
  /** By signal: when each carrier last brought a value. */
  readonly #brought = new Map<number, Map<number, Micros>>();
  readonly #contested = new Set<number>();

  constructor(
    readonly carriers: Carriers,
    readonly shared: SharedSignals,
    /** Whether the bits that a carrier last sent for a slot are a value. */
    readonly isValue: (carrier: number, slot: number) => boolean,
    /** Whether everything that a carrier brings is doubted already. */
    readonly isDoubted: (carrier: number) => boolean,
    readonly onChange: (signal: number, isContested: boolean, now: Micros) => void,
  ) {}

  get contests(): SharedContest[] {
    return [...this.#contested].map((signal) => {
      const holder = this.carriers.table.carriers[signal];
      const others = [...this.#brought.get(signal)?.keys() ?? []].filter((it) => it !== holder);
      return { signal, carriers: [holder, ...others] };
    });
  }

  /** After a message of a carrier that shares signals was read. */
  follow(carrier: number, now: Micros): void {
    for (const [slot, signal] of this.shared.signalsOf(carrier)) {
      const brought = this.#brought.get(signal) ?? new Map<number, Micros>();
      this.#brought.set(signal, brought);
      if (this.isValue(carrier, slot)) brought.set(carrier, now);
      this.#forgetQuiet(brought, now);
      const isContested = this.#hasRivals(signal, brought, now);
      if (isContested !== this.#contested.has(signal)) this.#turn(signal, isContested, now);
      if (isContested) this.#doubt(signal, now);
    }
  }

  #forgetQuiet(brought: Map<number, Micros>, now: Micros): void {
    for (const [carrier, at] of brought) if (now - at >= QUIET) brought.delete(carrier);
  }

  /** A contest begins between senders that are not old; it lasts until one has been quiet. */
  #hasRivals(signal: number, brought: ReadonlyMap<number, Micros>, now: Micros): boolean {
    const { bus, source, oldAge } = this.carriers;
    const goesOn = this.#contested.has(signal);
    const devices = new Set<number>();
    for (const [carrier, at] of brought) {
      if (goesOn || now - at < oldAge[carrier]) devices.add(bus[carrier] << 8 | source[carrier]);
    }
    return devices.size > 1;
  }

  #turn(signal: number, isContested: boolean, now: Micros): void {
    this.version++;
    if (isContested) {
      this.#contested.add(signal);
    } else {
      this.#contested.delete(signal);
      this.#believe(signal, now);
    }
    this.onChange(signal, isContested, now);
  }

  #doubt(signal: number, now: Micros): void {
    const { table } = this.carriers;
    if (table.qualities[signal] !== Quality.good) return;
    table.set(signal, table.values[signal], Quality.uncertain, Reason.twoSenders, now);
  }

  #believe(signal: number, now: Micros): void {
    const { table } = this.carriers;
    if (table.qualities[signal] !== Quality.uncertain) return;
    if (this.isDoubted(table.carriers[signal])) return;
    table.set(signal, table.values[signal], Quality.good, Reason.none, now);
  }
}
