import type { FrameBatch } from "../../bus/frame-batch.ts";
import type { Micros } from "../../ground/time.ts";

/** Frames that are kept: some seconds of several full buses. A power of two. */
const KEPT = 32_768;

/** When frames of which identifiers came on which buses: the last ones, without their data. */
export class FrameHistory {
  readonly #times = new Float64Array(KEPT);
  readonly #buses = new Uint8Array(KEPT);
  readonly #identifiers = new Uint32Array(KEPT);
  #count = 0;

  /** The frames of a batch from one on and before another, in order. */
  take(batch: FrameBatch, from: number, to: number): void {
    for (let at = from; at < to;) {
      const place = this.#count % KEPT;
      const end = Math.min(to, at + KEPT - place);
      this.#times.set(batch.times.subarray(at, end), place);
      this.#buses.set(batch.buses.subarray(at, end), place);
      this.#identifiers.set(batch.identifiers.subarray(at, end), place);
      this.#count += end - at;
      at = end;
    }
  }

  /**
   * Calls back for the last frames, latest first, as far back as they lie within a span: what came
   * before the clock was set once is left out.
   */
  within(
    earliest: Micros,
    latest: Micros,
    each: (time: Micros, bus: number, identifier: number) => void,
  ): void {
    const first = Math.max(0, this.#count - KEPT);
    for (let at = this.#count - 1; at >= first; at--) {
      const place = at % KEPT;
      const time = this.#times[place];
      if (time < earliest || time > latest) return;
      each(time, this.#buses[place], this.#identifiers[place]);
    }
  }
}
