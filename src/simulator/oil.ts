import { along, type Curve } from "./curve.ts";
import type { Random } from "./random.ts";

export interface OilMake {
  /** Pa: the relief valve lets no more build up. */
  readonly relief: number;
  /** How fast pressure builds up with speed; for each 1/min. */
  readonly pump: number;
}

/** Typical of makers' manuals: 60 psi; hot oil (100 °C) gives about 27 psi at 700 rpm, 53 at 2,600. */
export const DIESEL_OIL: OilMake = { relief: 414_000, pump: 8.6e-4 };

/** Typical of makers' manuals: 55 psi; hot oil gives about 14 psi at 650 rpm, 33 at 2,000. */
export const V8_OIL: OilMake = { relief: 380_000, pump: 4.5e-4 };

/** 60 psi; hot oil gives about 45 psi at the one speed it has. */
export const GENERATOR_OIL: OilMake = { relief: 414_000, pump: 9.5e-4 };

/** Oil grows thicker by this share a kelvin as it cools. */
const THICKENING = 0.008;
/** What a clogged strainer still lets build up, 14 psi, and how fast it gets there, Pa/s. */
export const CLOGGED = 97_000;
const CLOGGING = 16_000;
/** Seconds in which a burst hose empties the sump. */
const EMPTYING = 1.5;
/** Seconds in which pressure follows speed. */
const LAG = 0.25;
/** How long an idling pump takes to fill the galleries after a start, seconds. */
const FILLING: readonly [number, number] = [0.7, 1.7];
/** Seconds in which the galleries of a stopped engine run empty. */
const DRAINING = 240;
/** Share of the pressure over the share of the galleries that is filled. */
const FILLED: Curve = [[0.85, 0], [1, 1]];

/** The oil circuit of an engine. Pressures are gauge, in Pa. */
export class Oil {
  pressure = 0;
  /** °C. */
  temperature: number;
  /**
   * Whether the pick-up strainer is clogging. The pump then gets only so much oil, so pressure no
   * longer follows speed: the lack shows under load and hardly at idle.
   */
  clogging = false;
  /** Where it ends, Pa. */
  clogged = CLOGGED;
  /** Whether a hose has burst: soon the pump has nothing to pump. */
  lost = false;
  /** Share of its pressure that an engine with worn bearings still builds up. */
  kept = 1;
  /** The most that the strainer lets build up, Pa. */
  #strainerLimit: number;
  /** Share of the oil that is still in the sump. */
  #left = 1;
  /** 0 to 1. */
  #filled = 0;
  #fillingTime: number;

  constructor(readonly make: OilMake, readonly random: Random, celsius: number) {
    this.#strainerLimit = make.relief;
    this.temperature = celsius;
    this.#fillingTime = random.between(...FILLING);
  }

  /** `speed` in 1/min, `load` 0 to 1, `coolant` in °C. */
  step(seconds: number, speed: number, load: number, coolant: number): void {
    this.#fill(seconds, speed);
    this.#strainerLimit = this.clogging
      ? Math.max(this.clogged, this.#strainerLimit - CLOGGING * seconds)
      : this.make.relief;
    this.#left = this.lost ? Math.max(0, this.#left - seconds / EMPTYING) : 1;
    const warmed = speed > 0 ? coolant + 25 * load : coolant;
    this.temperature += (warmed - this.temperature) * seconds / (speed > 0 ? 150 : 600);

    const thickness = Math.exp(THICKENING * (100 - this.temperature));
    const built = this.make.relief * (1 - Math.exp(-this.make.pump * thickness * speed));
    const wanted = Math.min(built * this.kept, this.#strainerLimit) *
      along(FILLED, this.#filled) * this.#left;
    this.pressure += (wanted - this.pressure) * Math.min(1, seconds / LAG);
    if (speed === 0 && this.pressure < 500) this.pressure = 0;
  }

  #fill(seconds: number, speed: number): void {
    if (speed > 0) {
      this.#filled = Math.min(1, this.#filled + seconds * speed / 700 / this.#fillingTime);
      return;
    }
    if (this.#filled === 1) this.#fillingTime = this.random.between(...FILLING);
    this.#filled = Math.max(0, this.#filled - seconds / DRAINING);
  }
}
