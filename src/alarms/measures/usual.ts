import { type Micros, SECOND } from "../../ground/time.ts";
import type { MeasureRecord } from "./measure.ts";

export interface UsualManner {
  /** How much time of learning counts: what is older fades. */
  readonly window: Micros;
  /** Nothing is known of a band in which less was learned. */
  readonly least: Micros;
  /** Width of a band of the signal by which is told apart; Infinity for one band. */
  readonly band: number;
}

interface Band {
  /** Seconds learned, and the sum of value times seconds. */
  weight: number;
  sum: number;
  /** The first mean that was known: from commissioning, and never learned again. */
  baseline: number;
}

/**
 * What a value usually is: its mean over the last `window` of learning time, by bands of another
 * signal, with a fixed baseline beside it so that slow decay is not learned as usual. Plain sums:
 * what is older than the window fades by halves.
 */
export class Usual {
  #bands = new Map<number, Band>();
  #value = NaN;
  #band = NaN;
  #since: Micros = 0;

  constructor(readonly manner: UsualManner) {}

  /** The value from now on; NaN where nothing is to be learned. @param by NaN while not known */
  take(value: number, by: number, now: Micros): void {
    this.#learn(now);
    this.#value = value;
    this.#band = this.#bandOf(by);
    this.#since = now;
  }

  /** The mean and the baseline at a place; NaN while too little was learned there. */
  known(by: number): { readonly usual: number; readonly baseline: number } {
    const band = this.#bands.get(this.#bandOf(by));
    if (band === undefined || Number.isNaN(band.baseline)) return NOT_KNOWN;
    return { usual: band.sum / band.weight, baseline: band.baseline };
  }

  adopt(earlier: Usual): void {
    this.#bands = earlier.#bands;
    this.#value = earlier.#value;
    this.#band = earlier.#band;
    this.#since = earlier.#since;
  }

  keep(now: Micros): MeasureRecord | null {
    this.#learn(now);
    this.#since = now;
    if (this.#bands.size === 0) return null;
    const bands = [...this.#bands];
    return {
      band: bands.map(([place]) => place),
      weight: bands.map(([, { weight }]) => weight),
      sum: bands.map(([, { sum }]) => sum),
      // A band that is not known yet has none.
      isKnown: bands.map(([, { baseline }]) => Number.isNaN(baseline) ? 0 : 1),
      baseline: bands.map(([, { baseline }]) => Number.isNaN(baseline) ? 0 : baseline),
    };
  }

  recall({ band = [], weight = [], sum = [], isKnown = [], baseline = [] }: MeasureRecord): void {
    band.forEach((place, i) => {
      if (!(weight[i] > 0) || sum[i] === undefined) return;
      const kept = isKnown[i] === 1 ? baseline[i] ?? NaN : NaN;
      this.#bands.set(place, { weight: weight[i], sum: sum[i], baseline: kept });
    });
  }

  #learn(now: Micros): void {
    if (Number.isNaN(this.#value) || Number.isNaN(this.#band) || now <= this.#since) return;
    const seconds = (now - this.#since) / SECOND;
    const band = this.#bands.get(this.#band) ?? { weight: 0, sum: 0, baseline: NaN };
    band.weight += seconds;
    band.sum += seconds * this.#value;
    const isKnown = band.weight * SECOND >= this.manner.least;
    if (isKnown && Number.isNaN(band.baseline)) band.baseline = band.sum / band.weight;
    if (band.weight * SECOND > this.manner.window) {
      band.weight /= 2;
      band.sum /= 2;
    }
    this.#bands.set(this.#band, band);
  }

  #bandOf(by: number): number {
    return this.manner.band === Infinity ? 0 : Math.floor(by / this.manner.band);
  }
}

const NOT_KNOWN = { usual: NaN, baseline: NaN };
