import { along, type Curve } from "./curve.ts";

export interface Chemistry {
  /** Rest voltage over the state of charge, 12 V. */
  readonly rest: Curve;
  /** Ohm, with its cables. */
  readonly resistance: number;
  /** How much harder it is to charge than to discharge, over the state of charge. */
  readonly reluctance: Curve;
}

/** Four cells; flat from 20 to 90 %, and at the top they refuse more. Rest voltages: common practice, sources differ by 0.1 V. */
export const LIFEPO4: Chemistry = {
  rest: [
    [0, 10],
    [0.1, 12],
    [0.2, 12.8],
    [0.3, 13.0],
    [0.4, 13.15],
    [0.7, 13.25],
    [0.9, 13.35],
    [0.99, 13.45],
    [1, 13.6],
  ],
  resistance: 0.004,
  reluctance: [[0.9, 1], [0.98, 4], [0.995, 16], [1, 60]],
};

/** Rest voltages: common practice, sources differ by 0.15 V. Full, it takes less than an ampere. */
export const AGM: Chemistry = {
  rest: [[0, 11.6], [0.25, 12.15], [0.5, 12.4], [0.75, 12.65], [1, 12.85]],
  resistance: 0.007,
  reluctance: [[0, 1], [0.6, 2], [0.8, 5], [0.9, 20], [0.97, 80], [1, 300]],
};

/** Whatever charges: it holds `volts` behind `resistance` and gives `mostAmperes` at most. */
export interface ChargeSource {
  readonly volts: number;
  readonly mostAmperes: number;
  readonly resistance: number;
}

/** Seldom more than a few mV: a cable of a metre or two. */
export const CABLE = 0.003;

export function currentOf(source: ChargeSource, volts: number): number {
  return Math.min(source.mostAmperes, Math.max(0, (source.volts - volts) / source.resistance));
}

/** V at its posts below which a starter takes no more. */
const STARTER_STALLS = 8;

export class Battery {
  /** At the posts, V. */
  volts: number;
  /** A, positive into the battery. */
  current = 0;
  /** A.h in it. */
  charge: number;
  /** How much more resistance it has than when it was new. */
  tired = 1;
  /** Whether its own protection has cut it off from its posts. */
  open = false;

  /** `capacity` in A.h, `full` as a share of 1. */
  constructor(readonly chemistry: Chemistry, readonly capacity: number, full: number) {
    this.charge = capacity * full;
    this.volts = along(chemistry.rest, full);
  }

  get stateOfCharge(): number {
    return this.charge / this.capacity;
  }

  /** Finds the voltage at which all currents agree, and counts the charge. `load` in A. */
  step(seconds: number, sources: readonly ChargeSource[], load: number): void {
    const rest = this.#rest;
    const discharging = this.#resistance;
    const charging = discharging * along(this.chemistry.reluctance, this.stateOfCharge);
    let low = 0;
    let high = 18;
    for (let halving = 0; halving < 40; halving++) {
      const middle = (low + high) / 2;
      const over = middle - rest;
      const taken = this.open ? 0 : over / (over > 0 ? charging : discharging);
      if (taken < supplied(sources, middle) - load) low = middle;
      else high = middle;
    }
    this.volts = (low + high) / 2;
    this.current = this.open ? 0 : supplied(sources, this.volts) - load;
    this.charge += this.current * seconds / 3600;
    this.charge = Math.min(this.capacity, Math.max(0, this.charge));
  }

  /** A that a starter can draw: its turning speed, and so its hunger, falls with the voltage. */
  get mostForStarter(): number {
    return Math.max(0, this.#rest - STARTER_STALLS) / this.#resistance;
  }

  get #rest(): number {
    return along(this.chemistry.rest, this.stateOfCharge);
  }

  get #resistance(): number {
    return this.chemistry.resistance * this.tired;
  }
}

function supplied(sources: readonly ChargeSource[], volts: number): number {
  let sum = 0;
  for (const source of sources) sum += currentOf(source, volts);
  return sum;
}
