/** A limit along another signal: straight lines between points, held flat beyond both ends. */
export class CurveTable {
  readonly #at: Float64Array;
  readonly #limits: Float64Array;

  /** @param points rising in `at`, at least one */
  constructor(points: readonly { readonly at: number; readonly limit: number }[]) {
    this.#at = Float64Array.from(points, (point) => point.at);
    this.#limits = Float64Array.from(points, (point) => point.limit);
  }

  /** NaN for NaN. */
  limitAt(value: number): number {
    if (Number.isNaN(value)) return NaN;
    const last = this.#at.length - 1;
    if (value <= this.#at[0]) return this.#limits[0];
    if (value >= this.#at[last]) return this.#limits[last];
    let right = 1;
    while (this.#at[right] < value) right++;
    const left = right - 1;
    const share = (value - this.#at[left]) / (this.#at[right] - this.#at[left]);
    return this.#limits[left] + share * (this.#limits[right] - this.#limits[left]);
  }
}
