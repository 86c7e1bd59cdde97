/** Side by side, for one look finds both. */
const enum Side {
  above = 0,
  below = 1,
  stride = 2,
}

/** A bound is taken wide, since a comparison subtracts before it compares. */
const WIDTH = 1e-9;

/**
 * By signal: the range about its last value within which no comparison with a number changes its
 * answer. While a value stays in it, no condition that looks at the signal has to be asked again;
 * a speed comes ten times a second and passes 500 rpm twice a day.
 */
export class AnswerRanges {
  /** Ascending and each once. */
  readonly #bounds: number[][] = [];
  /** NaN where the next value is to be looked at whatever it is. */
  #ranges = new Float64Array(0);

  /** Adds values at which an answer about the signal changes. */
  add(signal: number, bounds: readonly number[]): void {
    while (this.#bounds.length <= signal) this.#bounds.push([]);
    this.#bounds[signal] = [...new Set([...this.#bounds[signal], ...bounds])].sort((a, b) => a - b);
    const length = this.#bounds.length * Side.stride;
    if (this.#ranges.length < length) {
      const grown = new Float64Array(length * 2).fill(NaN);
      grown.set(this.#ranges);
      this.#ranges = grown;
    }
    this.#set(signal, NaN, NaN);
  }

  /** Whether no answer about the signal has changed; false where it is not known, NaN. */
  isSame(signal: number, value: number): boolean {
    const ranges = this.#ranges;
    const own = signal * Side.stride;
    if (value > ranges[own + Side.above] && value < ranges[own + Side.below]) return true;
    this.#move(signal, value);
    return false;
  }

  /** Where the range of a signal begins and ends; NaN where its next value is to be looked at. */
  aboveOf(signal: number): number {
    return this.#ranges[signal * Side.stride + Side.above];
  }

  belowOf(signal: number): number {
    return this.#ranges[signal * Side.stride + Side.below];
  }

  /** To the range in which the value lies; to none on a bound. */
  #move(signal: number, value: number): void {
    if (Number.isNaN(value)) return this.#set(signal, NaN, NaN);
    let above = -Infinity;
    let below = Infinity;
    for (const bound of this.#bounds[signal] ?? []) {
      const wide = Math.abs(bound) * WIDTH;
      if (bound + wide < value) above = bound + wide;
      else if (bound - wide > value) below = Math.min(below, bound - wide);
      else return this.#set(signal, NaN, NaN);
    }
    this.#set(signal, above, below);
  }

  #set(signal: number, above: number, below: number): void {
    this.#ranges[signal * Side.stride + Side.above] = above;
    this.#ranges[signal * Side.stride + Side.below] = below;
  }
}
