import { along, type Curve } from "./curve.ts";
import type { Random } from "./random.ts";

/** The relief valve lets no more build up: 60 psi, typical of makers' manuals. */
const RELIEF = 414_000;
/** Hot oil (100 °C) at idle (700 rpm) then gives about 27 psi, at 2,600 rpm 53 psi. */
const PUMP = 8.6e-4;
/** Oil grows thicker by this share a kelvin as it cools. */
const THICKENING = 0.008;
/** What a clogged strainer still lets build up, 14 psi, and how fast it gets there, Pa/s. */
const CLOGGED = 97_000;
const CLOGGING = 16_000;
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
  /** The most that the strainer lets build up, Pa. */
  #strainerLimit = RELIEF;
  /** 0 to 1. */
  #filled = 0;
  #fillingTime: number;

  constructor(readonly random: Random, celsius: number) {
    this.temperature = celsius;
    this.#fillingTime = random.between(...FILLING);
  }

  /** `speed` in 1/min, `load` 0 to 1, `coolant` in °C. */
  step(seconds: number, speed: number, load: number, coolant: number): void {
    this.#fill(seconds, speed);
    this.#strainerLimit = this.clogging
      ? Math.max(CLOGGED, this.#strainerLimit - CLOGGING * seconds)
      : RELIEF;
    const warmed = speed > 0 ? coolant + 25 * load : coolant;
    this.temperature += (warmed - this.temperature) * seconds / (speed > 0 ? 150 : 600);

    const thickness = Math.exp(THICKENING * (100 - this.temperature));
    const built = RELIEF * (1 - Math.exp(-PUMP * thickness * speed));
    const wanted = Math.min(built, this.#strainerLimit) * along(FILLED, this.#filled);
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
